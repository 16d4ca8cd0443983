"""Times the forward transform of real single-precision images by scipy, plans
warmed, and prints for each size the least time of all repeats.

    python3 pocket.py THREADS REPEATS WxH...
"""
import sys
import time

import numpy as np
import scipy.fft


def least(call, repeats):
    call()
    best = np.inf
    for _ in range(repeats):
        began = time.perf_counter()
        call()
        best = min(best, time.perf_counter() - began)
    return 1e3 * best


threads, repeats = int(sys.argv[1]), int(sys.argv[2])
for size in sys.argv[3:]:
    w, h = map(int, size.split("x"))
    x = np.random.default_rng(1).standard_normal((h, w), dtype=np.float32)
    print("scipy", size, threads, f"{least(lambda: scipy.fft.rfft2(x, workers=threads), repeats):.3f}")
    if threads == 1:
        print("numpy", size, 1, f"{least(lambda: np.fft.rfft2(x), max(repeats // 3, 2)):.3f}")
