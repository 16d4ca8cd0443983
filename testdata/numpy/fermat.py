"""The wavefront of an eye with a displaced aspheric lens, by Fermat's principle.

No law of refraction and no ray: the optical path from a point of the retina to a
point of the pupil's plane is written as a function of where it crosses the
three surfaces (six unknowns), and the crossing is where that function does not
change (scipy.optimize.root on its gradient, taken by complex steps). The pupil's
plane lies behind the cornea, so the last leg, in air, runs backwards and counts
negative.

Axes: x to the observer's right, y up, z into the eye, mm. One-surface cornea
R 7.575, Q -.14135, n 1.3375; lens of index 1.4577, R 11.043 / -11.043, 1.14 thick,
front vertex at 4.5, front Q -2 and -1.2e-4 r^4 + 3e-6 r^6, back Q -1. It is tilted
about its centre, its back towards a direction, then shifted. Retina on the axis
at 22.9032. The pupil's plane is where the cornea images a stop at z = 4.

Run:  /usr/bin/python3 fermat.py > fermat.csv
Output: shift x, shift y, tilt, towards, pupil x, pupil y, W. mm, degrees and um;
W = path of the middle of the pupil less that of the point.
"""
import numpy as np
from scipy.optimize import root

RETINA = np.array([0, 0, 22.9032])
PUPIL_Z = 1 / (1.3375 / 4 - 0.3375 / 7.575)
CENTRE = np.array([0, 0, 4.5 + 0.57])


def sag(x, y, radius, q, a4=0.0, a6=0.0):
    r2 = x * x + y * y
    c = 1 / radius
    return c * r2 / (1 + np.sqrt(1 - (1 + q) * c * c * r2)) + a4 * r2**2 + a6 * r2**3


def turn(tilt, towards):
    t, f = np.radians(tilt), np.radians(towards)
    about_y = np.array([[np.cos(t), 0, np.sin(t)], [0, 1, 0], [-np.sin(t), 0, np.cos(t)]])
    about_z = np.array([[np.cos(f), -np.sin(f), 0], [np.sin(f), np.cos(f), 0], [0, 0, 1]])
    return about_z @ about_y @ about_z.T


def length(v):
    return np.sqrt(np.sum(v * v))  # also for complex steps


def path(u, place, pupil):
    shift, rot = place
    into = lambda p: CENTRE + np.append(shift, 0) + rot @ (p - CENTRE)
    back = into(np.array([u[0], u[1], 4.5 + 1.14 + sag(u[0], u[1], -11.043, -1)]))
    front = into(np.array([u[2], u[3], 4.5 + sag(u[2], u[3], 11.043, -2, -1.2e-4, 3e-6)]))
    cornea = np.array([u[4], u[5], sag(u[4], u[5], 7.575, -0.14135)])
    return (1.3375 * length(back - RETINA) + 1.4577 * length(front - back)
            + 1.3375 * length(cornea - front) - length(pupil - cornea))


def gradient(u, *args):
    g = np.empty(6)
    for k in range(6):
        step = u.astype(complex)
        step[k] += 1e-30j
        g[k] = path(step, *args).imag / 1e-30
    return g


def stationary(place, x, y):
    pupil = np.array([x, y, PUPIL_Z])
    guess = np.array([x, y] * 3) * np.repeat([0.75, 0.8, 1.0], 2)
    s = root(gradient, guess, args=(place, pupil), tol=1e-15)
    assert np.max(np.abs(s.fun)) < 1e-11, s
    return path(s.x, place, pupil)


for sx, sy, tilt, towards in [(0, 0, 0, 0), (0.7, -0.4, 0, 0), (0, 0, 7, 120), (-0.6, 0.5, 8, 35)]:
    place = np.array([sx, sy]), turn(tilt, towards)
    middle = stationary(place, 0, 0)
    for x, y in [(1, 0), (0, 1), (-1.5, 0.5), (2, 2), (-2.1, -1.9), (0.4, 2.9), (2.95, -0.2)]:
        print(f"{sx},{sy},{tilt},{towards},{x},{y},{1000 * (middle - stationary(place, x, y)):.8f}")
