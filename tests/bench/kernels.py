"""Times NumPy's and SciPy's own kernels on the columns that the bench writes; one JSON line."""

import json
import sys
import time

import numpy as np

folder = sys.argv[1]
rounds = int(sys.argv[2])
values = np.fromfile(f"{folder}/values.f64")
times = np.fromfile(f"{folder}/times.f64")
asked = np.fromfile(f"{folder}/asked.f64")


def best(work):
    seconds = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        seconds.append(time.perf_counter() - start)
    return min(seconds)


def crossings():
    below = values < 0
    at = np.flatnonzero(below[1:] != below[:-1])
    share = values[at] / (values[at] - values[at + 1])
    return times[at] + share * (times[at + 1] - times[at])


out = {
    "numpy": np.__version__,
    "gradient": best(lambda: np.gradient(values, times)),
    "resampling": best(lambda: np.interp(asked, times, values)),
    "crossings": best(crossings),
    "percentiles": best(lambda: np.percentile(values, [5, 50, 95])),
    "checks": {
        "gradient": float(np.gradient(values, times)[1000]),
        "resampling": float(np.interp(asked, times, values)[1000]),
        "crossings": [len(crossings()), float(crossings().sum())],
        "percentiles": [float(v) for v in np.percentile(values, [5, 50, 95])],
    },
}
try:
    import scipy
    from scipy.signal import savgol_filter

    out["scipy"] = scipy.__version__
    out["smoothing"] = best(lambda: savgol_filter(values, 21, 2))
    out["checks"]["smoothing"] = float(savgol_filter(values, 21, 2)[1000])
except ImportError:
    pass
print(json.dumps(out))
