"""Two-dimensional transforms of small images, worked out with numpy.fft.

Run:  /usr/bin/python3 fft.py > fft.csv
Each line: w, h, k, l, real, imaginary part of the full transform of the image
f[y][x] = ((7 x x + 3 x y + 5 y y + x + 2) mod 11) - 4, kernel exp(-i).
"""
import numpy as np

for w, h in ((1, 1), (2, 3), (5, 4), (6, 10), (9, 7), (16, 12), (15, 25)):
    x, y = np.meshgrid(np.arange(w), np.arange(h))
    f = np.fft.fft2((7 * x * x + 3 * x * y + 5 * y * y + x + 2) % 11 - 4)
    for l in range(h):
        for k in range(w):
            print(f"{w},{h},{k},{l},{f[l, k].real:.9e},{f[l, k].imag:.9e}")
