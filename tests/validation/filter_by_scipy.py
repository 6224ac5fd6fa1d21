"""Writes filter_by_scipy.csv: a signal and what SciPy's filters make of it.

Butterworth of sixth order with its cut-off raised so that two passes are 3 dB down at 20 Hz; forwards
and backwards, each pass from the steady state of its first value.
"""

from pathlib import Path

import numpy as np
import scipy
from scipy.signal import butter, sosfilt, sosfilt_zi

STEP_S = 0.002
RAISED = (np.sqrt(2) - 1) ** (-1 / 12)
CUTOFF_HZ = np.arctan(np.tan(np.pi * 20 * STEP_S) * RAISED) / (np.pi * STEP_S)


def one_pass(sos, values):
    return sosfilt(sos, values, zi=sosfilt_zi(sos) * values[0])[0]


t = STEP_S * np.arange(400)
signal = 120 + 40 * np.sin(2 * np.pi * 3 * t) + 30 * np.sin(2 * np.pi * 17 * t + 1)
signal += 25 * np.sign(np.sin(2 * np.pi * 31 * t + 0.3))
sos = butter(6, CUTOFF_HZ, fs=1 / STEP_S, output="sos")
filtered = one_pass(sos, one_pass(sos, signal)[::-1])[::-1]
with open(Path(__file__).with_suffix(".csv"), "w") as file:
    file.write(f"# SciPy {scipy.__version__}, made by filter_by_scipy.py\nraw_n,filtered_n\n")
    for raw, out in zip(signal, filtered):
        file.write(f"{raw:.12g},{out:.12g}\n")
