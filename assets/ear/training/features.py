"""The contract with the product: 16 kHz samples to 64 log-mel bands (numpy reference), and the check signal.

Frames of 400 samples every 160, no padding; periodic Hann window; FFT of 512; power; 64 triangular filters of peak 1 between
60 and 7600 Hz, evenly spaced on mel = 2595 log10(1 + f / 700); log(energy + 1e-6); minus each band's mean over the utterance.
"""
import numpy as np

RATE, FRAME, HOP, FFT, BANDS, LOW, HIGH = 16000, 400, 160, 512, 64, 60.0, 7600.0
WINDOW = 0.5 - 0.5 * np.cos(2 * np.pi * np.arange(FRAME) / FRAME)


def mel_matrix(warp=1.0):
    """[257, 64]. A warp other than 1 moves the filters as another vocal tract length would (training only)."""
    mel = np.linspace(2595 * np.log10(1 + LOW / 700), 2595 * np.log10(1 + HIGH / 700), BANDS + 2)
    points = np.minimum(700 * (10 ** (mel / 2595) - 1) * warp, np.linspace(7800, 8000, BANDS + 2) if warp > 1 else np.inf)
    bins = np.arange(FFT // 2 + 1)[:, None] * RATE / FFT
    low, centre, high = points[:-2], points[1:-1], points[2:]
    return np.maximum(0, np.minimum((bins - low) / (centre - low), (high - bins) / (high - centre)))


MEL = mel_matrix()


def log_mel(samples):
    """Float samples in [-1, 1] to [T, 64] float32."""
    samples = np.asarray(samples, np.float64)
    count = 1 + (len(samples) - FRAME) // HOP
    frames = samples[np.arange(count)[:, None] * HOP + np.arange(FRAME)] * WINDOW
    bands = np.log((np.abs(np.fft.rfft(frames, FFT)) ** 2) @ MEL + 1e-6)
    return (bands - bands.mean(0)).astype(np.float32)


CHECK_FORMULA = """x[n] = float32(0.2 sin(2 pi (200 t + 1500 t^2)) e(t) + 0.1 sin(2 pi 440 t) + 0.05 u[n]), t = n / 16000, n = 0 .. 15999
e(t) = 0.5 - 0.5 cos(2 pi 3 t); all in double precision, then rounded to float
u[n] = s[n+1] / 2^31 - 1; s[0] = 12345; s[n+1] = (1664525 s[n] + 1013904223) mod 2^32"""


def check_signal():
    t = np.arange(RATE) / RATE
    noise, state = np.empty(RATE), 12345
    for n in range(RATE):
        state = (1664525 * state + 1013904223) % 2 ** 32
        noise[n] = state / 2 ** 31 - 1
    envelope = 0.5 - 0.5 * np.cos(2 * np.pi * 3 * t)
    signal = 0.2 * np.sin(2 * np.pi * (200 * t + 1500 * t * t)) * envelope + 0.1 * np.sin(2 * np.pi * 440 * t) + 0.05 * noise
    return signal.astype(np.float32)
