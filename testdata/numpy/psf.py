"""One whole point spread function, worked out with numpy and nothing of ours.

A 3 mm pupil, its centre 0.3 mm right of and 0.2 mm below (clinician's axes) the
achromatic axis; path = defocus, astigmatism, coma, trefoil and spherical
aberration as written in path(); light of 480, 555 and 620 nm weighted 0.2, 1.0,
0.5; chromatic focus 1.68524 - 633.46/(l - 214.102) D, zero at 555 nm;
directional sensitivity 10^(-0.05 r^2) about the achromatic axis.

The pupil stands in the middle of its array, the rim is averaged over 16 x 16
points of each cell, the pattern is |fftshift(fft2(ifftshift(pupil)))|^2 and
is flipped left to right (the patient faces the clinician) with numpy.flip.

Run:  /usr/bin/python3 psf.py > psf.csv
Output: "whole" lines: the 512 x 512 pattern added up in 32 x 32 blocks of 16;
"core" lines: its middle 48 x 48 samples. row, column, value; row 0 at the top.
"""
import numpy as np

N, STEP, D = 512, np.radians(0.125 / 60), 3.0
CX, CY = 0.3, -0.2


def path(x, y):  # um, x and y in mm
    x, y = x / 1.5, y / 1.5
    r2 = x * x + y * y
    return (0.25 * np.sqrt(3) * (2 * r2 - 1)
            + 0.10 * np.sqrt(6) * (2 * x * y)
            - 0.12 * np.sqrt(6) * (x * x - y * y)
            + 0.20 * np.sqrt(8) * (3 * r2 - 2) * x
            + 0.07 * np.sqrt(8) * (3 * r2 - 2) * y
            + 0.05 * np.sqrt(8) * (x**3 - 3 * x * y * y)
            + 0.08 * np.sqrt(5) * (6 * r2 * r2 - 6 * r2 + 1))


def rx(nm):
    return 1.68524 - 633.46 / (nm - 214.102)


def one(nm):
    dx = nm * 1e-6 / (N * STEP)
    k = np.arange(N) - N // 2
    x, y = np.meshgrid(k * dx, k[::-1] * dx + dx)  # y up; row N/2 is y = 0
    assert abs(y[N // 2, 0]) < 1e-12
    y = np.round(y / dx) * dx
    sub = (np.arange(16) + 0.5) / 16 - 0.5
    cover = np.zeros((N, N))
    for a in sub:
        for b in sub:
            cover += (x + a * dx) ** 2 + (y + b * dx) ** 2 <= (D / 2) ** 2
    cover /= 256
    r2 = (x + CX) ** 2 + (y + CY) ** 2
    w = path(x, y) - (rx(nm) - rx(555)) * r2 / 2
    pupil = cover * 10 ** (-0.05 * r2 / 2) * np.exp(2j * np.pi * w / (nm / 1000))
    # rows run down while y runs up: the middle row stays, so flip and roll
    up = np.roll(np.flip(pupil, 0), 1, 0)  # row index now grows with y
    f = np.fft.fftshift(np.fft.fft2(np.fft.ifftshift(up)))
    p = np.abs(f) ** 2
    p /= p.sum()
    down = np.roll(np.flip(p, 0), 1, 0)  # row 0 at the top again
    return np.roll(np.flip(down, 1), 1, 1)  # the patient's left for the clinician's right


lines = [(480, 0.2), (555, 1.0), (620, 0.5)]
psf = sum(w * one(nm) for nm, w in lines) / sum(w for _, w in lines)
whole = psf.reshape(32, 16, 32, 16).sum((1, 3))
core = psf[N // 2 - 24:N // 2 + 24, N // 2 - 24:N // 2 + 24]
for name, block in (("whole", whole), ("core", core)):
    for j, row in enumerate(block):
        for i, v in enumerate(row):
            print(f"{name},{j},{i},{v:.6e}")
