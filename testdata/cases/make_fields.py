"""Makes the invented fields of the built-in case and of the second case.

The loss follows the course of the nerve-fibre bundles in polar coordinates
about the optic disc, phi = phi0 + b (r - 4)^c (Jansonius et al., Vision Research
2009;49:2157, temporal bundles, constants from memory). Every point of the
damaged half of the field is traced back to the angle phi0 at which its bundle
enters the disc, and the loss depends on that angle alone. Seeded noise: 1 dB
where the field is sound, up to 2.5 dB where it is damaged. A test reads both
files of an eye and holds the shape; run this only to change the shape.

    /usr/bin/python3 make_fields.py ../../internal/casefile/demo .
"""
import math
import random
import sys


def phi_at(phi0, r, upper):
    """Angle about the disc, in degrees, of bundle phi0 at distance r >= 4."""
    if upper:  # upper retina, lower field
        t = math.tanh((phi0 - 121) / 14)
        return phi0 + math.exp(-1.9 - 3.9 * t) * (r - 4) ** (1.9 + 1.4 * t)
    t = math.tanh((phi0 - 90) / 25)
    return phi0 + math.exp(0.7 - 1.5 * t) * (r - 4) ** (1.0 + 0.5 * t)


def bundle(x, y_retina):
    """phi0 of the bundle through a retinal point of a right eye, or None."""
    upper = y_retina > 0
    dx = x - 15
    dy = y_retina - (2 * (x / 15) ** 2 if x > 0 else 0)
    r, phi = math.hypot(dx, dy), abs(math.degrees(math.atan2(dy, dx)))
    if r <= 4:
        return phi
    lo, hi = 60.0, 180.0
    if phi_at(lo, r, upper) > phi:
        return None
    for _ in range(60):
        mid = (lo + hi) / 2
        lo, hi = (mid, hi) if phi_at(mid, r, upper) < phi else (lo, mid)
    return lo


def step(x, at, width):
    return 1 / (1 + math.exp(-(x - at) / width))


def loss(x, y_field, lower, inner, outer, depth):
    """dB of loss (negative) at a place of a right eye's field."""
    if (y_field < 0) != lower:
        return 0.0
    p = bundle(x, -y_field)
    if p is None:
        return 0.0
    return -depth * step(p, outer, 4) * step(-p, -inner, 2.0)


def write(name, points, comment, shape, seed, mirror=1):
    rng = random.Random(seed)
    with open(name, "w") as f:
        f.write(comment + "x_deg,y_deg,total_deviation_db\n")
        for x, y in points:
            d = loss(x, y, **shape) if shape else 0.0
            sd = 1.0 + 1.5 * min(1, -d / 15) * (1 if d > -24 else 0.5)
            f.write(f"{mirror * x},{y},{-0.9 + d + rng.gauss(0, sd):.1f}\n")


P242 = [(x, y) for y in range(21, -22, -6) for x in range(-27, 28, 6)
        if (x * x + y * y <= 522 or (x == -27 and abs(y) == 3)) and not (x == 15 and abs(y) == 3)]
P102 = [(x, y) for y in range(9, -10, -2) for x in range(-9, 10, 2) if x * x + y * y <= 82]

if __name__ == "__main__":
    demo, second = sys.argv[1:3]
    lower = dict(lower=True, inner=164.0, outer=112.0, depth=26.0)
    upper = dict(lower=False, inner=150.0, outer=95.0, depth=20.0)
    for pattern, pts, seed in (("24-2", P242, 11), ("10-2", P102, 12)):
        write(f"{demo}/right-{pattern}.csv", pts,
              f"# Invented: right eye, {pattern}, x as the patient sees it, dB from the age norm.\n"
              "# The pair at the blind spot is left out.\n" if pattern == "24-2" else
              f"# Invented: right eye, {pattern}, x as the patient sees it, dB from the age norm.\n", lower, seed)
    write(f"{demo}/left-24-2.csv", [(x, y) for x, y in P242],
          "# Invented: left eye, 24-2, x as the patient sees it, dB from the age norm.\n", None, 13, mirror=-1)
    write(f"{second}/second-left-24-2.csv", P242,
          "# Invented: left eye, 24-2 in right-eye format (x positive is temporal), dB from the age norm.\n", upper, 14)
