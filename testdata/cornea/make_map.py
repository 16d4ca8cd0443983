"""Makes cone.csv, an invented map of the front of a cornea with a steep place, and
cone-answer.csv, what it adds to the wavefront, worked out with numpy and scipy.

The surface is a conic (radius 7.65 mm, Q -0.35) and on it a hill of 9 µm, 1.3 mm
wide (one sigma), 0.5 mm to the clinician's left and 0.9 mm below the axis. The
answer does not know that: it fits a conic and a plane to the rounded heights,
traces light from its paraxial focus by Snell's law, turns what the fit leaves
into path with -(1.376 - 1), and fits Zernike terms (OSA, orthonormal) to both
over the disc of the map. Run: python3 make_map.py (Python 3, numpy, scipy).
"""
import math
import numpy as np
from scipy.optimize import brentq, least_squares

N, STEP, HALF = 1.376, 0.25, 14
DISC = HALF * STEP - STEP * math.sqrt(2)  # mm: cells beyond may lack a corner


def sag(r2, radius, q):
    return r2 / radius / (1 + np.sqrt(1 - (1 + q) * r2 / radius**2))


def zernike(n, m, x, y):
    rho, t = np.hypot(x, y), np.arctan2(y, x)
    k = abs(m)
    r = sum((-1)**s * math.factorial(n - s) / (math.factorial(s) * math.factorial((n + k) // 2 - s)
            * math.factorial((n - k) // 2 - s)) * rho**(n - 2 * s) for s in range((n - k) // 2 + 1))
    norm = math.sqrt((n + 1) * (1 if m == 0 else 2))
    return norm * r * (np.cos(k * t) if m >= 0 else np.sin(k * t))


i = np.arange(-HALF, HALF + 1) * STEP
X, Y = np.meshgrid(i, i)
h = -1000 * sag(X**2 + Y**2, 7.65, -0.35) + 9 * np.exp(-((X + .5)**2 + (Y + .9)**2) / (2 * 1.3**2))
h = np.round(h, 2)  # an instrument's last digit
with open("cone.csv", "w") as f:
    f.write("x_mm,y_mm,height_um\n")
    for x, y, v in zip(X.ravel(), Y.ravel(), h.ravel()):
        f.write(f"{x:.2f},{y:.2f},{v:.2f}\n")

inside = np.hypot(X, Y) <= DISC
x, y, v = X[inside], Y[inside], h[inside]
fit = least_squares(lambda p: p[0] + p[1] * x + p[2] * y - 1000 * sag(x**2 + y**2, p[3], p[4]) - v,
                    [0, 0, 0, 7.8, -.2], x_scale=[1, 1, 1, .1, .1], xtol=1e-14, ftol=1e-14)
radius, q = fit.x[3:]
left = -(N - 1) * -fit.fun  # fun is fit minus height

focus = N * radius / (N - 1)  # paraxial


def ray(s):
    """Height at which the ray through the surface at distance s meets the vertex
    plane, and its path ahead of the axial ray there, mm."""
    z = float(sag(s * s, radius, q))
    slope = s / math.sqrt(radius**2 - (1 + q) * s * s)
    inner = math.atan2(s, focus - z)  # of the ray to the axis
    normal = math.atan(slope)  # outward normal leans away from the axis
    outer = math.asin(N * math.sin(inner - normal)) + normal  # Snell
    land = s + z * math.tan(outer)
    return land, N * focus - N * math.hypot(s, focus - z) - z / math.cos(outer)


ahead = np.array([ray(brentq(lambda s: ray(s)[0] - r, 0, r + .5))[1] if r > 0 else 0 for r in np.hypot(x, y)])
NM = [(n, m) for n in range(9) for m in range(-n, n + 1, 2)]
low = [k for k, (n, m) in enumerate(NM) if n <= 6]
A = np.stack([zernike(n, m, x / DISC, y / DISC) for n, m in NM], 1)
conic = np.linalg.lstsq(A, 1000 * ahead, rcond=None)[0]
rest = np.linalg.lstsq(A[:, low], left, rcond=None)[0]
with open("cone-answer.csv", "w") as f:
    f.write("quantity,value\n")
    f.write(f"radius_mm,{radius:.6f}\nq,{q:.6f}\ndisc_mm,{DISC:.6f}\n")
    for k, (n, m) in enumerate(NM):
        if 3 <= n <= 6:
            f.write(f"c{n}_{m}_um,{conic[k] + rest[k]:.6f}\n")
