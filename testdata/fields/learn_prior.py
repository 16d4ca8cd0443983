"""What the first 740 real fields teach about loss between tested places.

Reads field-24-2-eyes.csv and field-24-2-normal.csv beside this file, uses rows
1 to 740 only, and writes ../../internal/fieldmask/prior-24-2.csv (mean and
covariance of total deviation at the 52 places) and prior-levels.csv (how far an
estimate may be off, by what was estimated). It prints how well the last 740
rows, which it did not learn from, are predicted. Needs numpy.

    python3 learn_prior.py
"""
import csv
import os
import numpy as np

HERE = os.path.dirname(os.path.abspath(__file__))
OUT = os.path.join(HERE, "..", "..", "internal", "fieldmask")
FIT = 740          # rows to learn from
HARMED = -3.0      # dB; eyes with a mean deviation below this are learned from
FREE = 100.0       # dB2 added to every covariance: an eye's general level is its own
SHRINK = 1.5       # dB2 added to the diagonal: each place has a share of its own
TESTS = 10         # a regression intercept is taken to be as good as the mean of ten tests
SPACING = 6.0      # degrees between places
NASAL, TEMPORAL = 5.8, 3.4   # degrees by which the halves are lifted apart
LEVEL = 1000.0     # dB2, the level of the continuation; large against the rest
KNOTS = [-30, -26, -22, -18, -14, -10, -7, -5, -3, -1, 1]


def smooth_step(t):
    t = np.clip(t, 0, 1)
    return t * t * (3 - 2 * t)


def lifted(p):
    """Places with the two halves of the field lifted apart."""
    x, y = p[:, 0], p[:, 1]
    s = smooth_step(x / 6)
    half = (1 - s) * np.sign(y) + s * np.clip(y / 3, -1, 1)
    w = smooth_step((x + 9) / 18)
    return np.stack([x, y, (NASAL * (1 - w) + TEMPORAL * w) * half], 1)


def kernel(p, q):
    d = lifted(p)[:, None] - lifted(q)[None]
    return LEVEL - np.sqrt((d * d).sum(2))


def retest_sd(sensitivity):
    """Henson and others 2000."""
    return np.minimum(np.exp(-0.081 * np.maximum(sensitivity, 0) + 3.27), 6)


def left_out(c, mu, y, noise):
    """Each place from the 51 others: estimate and its standard error."""
    est, se = np.empty_like(y), np.empty_like(y)
    for k in range(len(y)):
        inv = np.linalg.inv(c + FREE + np.diag(noise[k]))
        d = np.diag(inv)
        est[k], se[k] = y[k] - inv @ (y[k] - mu) / d, 1 / np.sqrt(d)
    return est, se


def limited(est, y, p):
    """The estimate kept within what the neighbours measured."""
    lo, hi = np.full(y.shape, np.inf), np.full(y.shape, -np.inf)
    for j in range(len(p)):
        for i in range(len(p)):
            d = np.hypot(*(p[i] - p[j]))
            if p[i, 1] * p[j, 1] < 0:
                d += 2 * SPACING * (1 - smooth_step(p[j, 0] / 6))
            off = 50 * (max(0, d - 1.5 * SPACING) / SPACING) ** 2
            if i != j:
                lo[:, j] = np.minimum(lo[:, j], y[:, i] + off)
                hi[:, j] = np.maximum(hi[:, j], y[:, i] - off)
    return np.clip(est, lo, hi)


def erased(c, mu, y, noise, p, slope):
    """Each place predicted with its row erased from the tables as well."""
    k, m0 = kernel(p, p), mu.mean()
    est, var = np.empty_like(y), np.empty_like(y)
    for j in range(len(p)):
        t = np.arange(len(p)) != j
        w = np.linalg.solve(k[np.ix_(t, t)], k[t, j])
        cj = c[np.ix_(t, t)] @ w
        v0 = w @ cj + slope * (k[j, j] - w @ k[t, j])
        for e in range(len(y)):
            b = np.linalg.solve(c[np.ix_(t, t)] + np.diag(noise[e][t]), cj)
            est[e, j] = m0 + w @ (mu[t] - m0) + (y[e, t] - mu[t]) @ b
            var[e, j] = v0 - cj @ b + noise[e][j]
    return est, var


def learn(y):
    return np.cov(y.T) + SHRINK * np.eye(y.shape[1]), y.mean(0)


def factors(est, err):
    """5 % and 95 % points of err in standard errors, by estimate."""
    rows = []
    for level in KNOTS:
        w = np.exp(-0.5 * ((est - level) / (1.5 + 0.05 * abs(level))) ** 2)
        order = np.argsort(err)
        cum = np.cumsum(w[order]) / w.sum()
        q = [np.interp(v, cum, err[order]) for v in (0.05, 0.5, 0.95)]
        rows.append((level, -q[0], q[2]))
    return rows


def unit_of(rows, est):
    """Half of the 90 % band, in standard deviations: how rugged a field is there."""
    lo, hi = spread_of(rows, est)
    return (lo + hi) / 2 / 1.645


def twice(c, mu, y, normal, p, rows):
    """left_out with the noise that belongs to the level around each place."""
    est, _ = left_out(c, mu, y, retest_sd(normal + y) ** 2 / TESTS)
    est = limited(est, y, p)
    noise = retest_sd(normal + est) ** 2 / TESTS / unit_of(rows, est) ** 2
    est, se = left_out(c, mu, y, noise)
    return limited(est, y, p), se


def spread_of(rows, est):
    t = np.array(rows)
    return np.interp(est, t[:, 0], t[:, 1]), np.interp(est, t[:, 0], t[:, 2])


def main():
    with open(os.path.join(HERE, "field-24-2-eyes.csv")) as f:
        lines = list(csv.reader(f))
    p = np.array([[float(v) for v in c.split("_")[1:]] for c in lines[0][1:]])
    a = np.array(lines[1:], float)
    age, y = a[:, :1], a[:, 1:]
    with open(os.path.join(HERE, "field-24-2-normal.csv")) as f:
        n = np.array([[float(v) for v in r[:4]] for r in list(csv.reader(f))[1:]])
    assert (n[:, :2] == p).all()
    normal = n[:, 2] + n[:, 3] * age
    noise = retest_sd(normal + y) ** 2 / TESTS
    md = y.mean(1)
    first = np.arange(len(y)) < FIT
    use = np.where(first & (md < HARMED))[0]

    est, se = np.empty((len(use), 52)), np.empty((len(use), 52))
    for fold in range(5):
        out = np.arange(len(use)) % 5 == fold
        c, mu = learn(y[use[~out]])
        e, s = left_out(c, mu, y[use[out]], noise[use[out]])
        est[out], se[out] = limited(e, y[use[out]], p), s
    first_rows = factors(est.ravel(), ((y[use] - est) / se).ravel())
    for fold in range(5):
        out = np.arange(len(use)) % 5 == fold
        c, mu = learn(y[use[~out]])
        est[out], se[out] = twice(c, mu, y[use[out]], normal[use[out]], p, first_rows)
    rows = factors(est.ravel(), ((y[use] - est) / se).ravel())

    c, mu = learn(y[use])
    band = use[(md[use] >= -20) & (md[use] <= -5)]
    _, v1 = erased(c, mu, y[band], noise[band], p, 1.0)
    e, v2 = erased(c, mu, y[band], noise[band], p, 2.0)
    mse = ((e - y[band]) ** 2).mean()
    slope = 1 + (mse - v1.mean()) / (v2.mean() - v1.mean())
    print(f"{len(use)} eyes; slope of the continuation {slope:.2f} dB2 per degree; erased {mse ** .5:.2f} dB")

    judge = np.where(~first & (md >= -20) & (md <= -5))[0]
    near = np.abs(p[:, 1]) < 4
    e, s = twice(c, mu, y[judge], normal[judge], p, rows)
    err = (y[judge] - e) / s
    lo, hi = spread_of(rows, e)
    held = (err >= -lo) & (err <= hi)
    sq = (y[judge] - e) ** 2
    print(f"judged on {len(judge)}: {sq.mean() ** .5:.3f} dB, near the midline {sq[:, near].mean() ** .5:.3f}, held {held.mean():.4f}, near {held[:, near].mean():.3f}")
    for a0, b0 in ((-50, -24), (-24, -18), (-18, -12), (-12, -6), (-6, 9)):
        g = (e >= a0) & (e < b0)
        print(f"  estimate {a0} to {b0}: {g.sum()} places, held {held[g].mean():.3f}")
    e, v = erased(c, mu, y[judge], noise[judge], p, slope)
    e = limited(e, y[judge], p)
    sq = (y[judge] - e) ** 2
    print(f"place erased from the tables too: {sq.mean() ** .5:.2f} dB, near the midline {sq[:, near].mean() ** .5:.2f}")

    with open(os.path.join(OUT, "prior-24-2.csv"), "w") as f:
        f.write(f"# learned from {len(use)} of 1480 open fields by testdata/fields/learn_prior.py; BSD 3-Clause, see normal-24-2.LICENSE\n")
        f.write("x_deg_right_eye_format,y_deg,mean_td_db," + ",".join(f"cov_{j + 1}" for j in range(52)) + "\n")
        for j in range(52):
            f.write(f"{p[j, 0]:g},{p[j, 1]:g},{mu[j]:.3f}," + ",".join(f"{v:.2f}" for v in c[j]) + "\n")
    with open(os.path.join(OUT, "prior-levels.csv"), "w") as f:
        f.write("# 90 % of errors of a left-out place lie within these standard errors; origin as prior-24-2.csv\n")
        f.write("estimate_td_db,below,above\n")
        for level, lo, hi in rows:
            f.write(f"{level:g},{lo:.3f},{hi:.3f}\n")


if __name__ == "__main__":
    main()
