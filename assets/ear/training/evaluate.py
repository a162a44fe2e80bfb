"""Closed-set figures of an exported network, in the way the product uses it: ONNX Runtime, one clip at a time, best CTC likelihood.

    python3 evaluate.py ear.onnx --dictionary D --measure measure [--rehearsal rehearsal] [--only speakers.txt]

measure: the decoded pack of `pack.py measure` (speech and the noise held out of training). Each clip gets 0.2 s of margin on both sides;
noise is scaled to the clip's RMS. --only restricts human clips to the speakers listed.
"""
import argparse
import os
from concurrent.futures import ProcessPoolExecutor

import numpy as np

import data
import features
import phrases
import pronounce

CONDITIONS = [("clean", None)] + [(kind, snr) for kind in ("real", "pink") for snr in (10, 5, 0)]
WORDS = "yes no stop go up down left right on off".split() + phrases.DIGITS
session, noises = None, []


def start(path, recordings):
    global session, noises
    import onnxruntime
    options = onnxruntime.SessionOptions()
    options.intra_op_num_threads = options.inter_op_num_threads = 1
    session = onnxruntime.InferenceSession(path, options, providers=["CPUExecutionProvider"])
    noises = recordings


def pink(rng, size):
    spectrum = np.fft.rfft(rng.standard_normal(size))
    return np.fft.irfft(spectrum / np.sqrt(np.maximum(1, np.arange(len(spectrum)))), size)


def disturb(clip, kind, snr, rng):
    wave = np.zeros(len(clip) + 6400)
    wave[3200:-3200] = clip
    level = np.sqrt(np.mean(clip ** 2)) + 1e-9
    if kind == "clean":
        return wave + rng.standard_normal(len(wave)) * level * 1e-3
    if kind == "pink":
        noise = pink(rng, len(wave))
    else:
        recording = noises[rng.integers(len(noises))]
        noise = recording[(rng.integers(len(recording)) + np.arange(len(wave))) % len(recording)]
    noise = noise * level * 10 ** (-snr / 20) / (np.sqrt(np.mean(noise ** 2)) + 1e-9)
    mixed = wave + noise
    return mixed / max(1, np.abs(mixed).max())


def logprobs(wave):
    return session.run(None, {"features": features.log_mel(wave)[None]})[0][0]


def likelihoods(logs, forms):
    """CTC log-likelihood of each label sequence."""
    longest = max(map(len, forms))
    labels = np.zeros((len(forms), 2 * longest + 1), np.int64)
    for i, form in enumerate(forms):
        labels[i, 1:2 * len(form):2] = form
    skip = np.zeros(labels.shape)
    skip[:, 3::2] = labels[:, 3::2] != labels[:, 1:-2:2]
    chances, total = np.exp(logs.astype(np.float64)), np.zeros(len(forms))
    alpha = np.zeros(labels.shape)
    alpha[:, 0], alpha[:, 1] = chances[0, 0], chances[0, labels[:, 1]]
    for frame in chances[1:]:
        before = alpha.copy()
        alpha[:, 1:] += before[:, :-1]
        alpha[:, 2:] += before[:, :-2] * skip[:, 2:]
        alpha *= frame[labels]
        scale = alpha.max(1) + 1e-300
        alpha /= scale[:, None]
        total += np.log(scale)
    last = np.array([2 * len(form) for form in forms])
    rows = np.arange(len(forms))
    return total + np.log(alpha[rows, last] + alpha[rows, last - 1] + 1e-300)


def answer(job):
    clip, text, candidates, forms, owner, kind, snr, seed = job
    logs = logprobs(disturb(clip, kind, snr, np.random.default_rng(seed)))
    return candidates[owner[likelihoods(logs, forms).argmax()]] == text


def phones_in_noise(job):
    wave = job
    best = logprobs(wave).argmax(1)
    return int(((best[1:] != best[:-1]) & (best[1:] != 0)).sum()), len(wave)


def candidate_forms(candidates, entries):
    forms, owner = [], []
    for index, text in enumerate(candidates):
        words = ["a." if w == "a" else w for w in text.split()]
        both = pronounce.variants(words, entries, "us", 4, index) + pronounce.variants(words, entries, "gb", 5, index + 7)
        for form in sorted({tuple(f) for f in both}):
            forms.append(form)
            owner.append(index)
    return forms, owner


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("network")
    parser.add_argument("--dictionary", required=True)
    parser.add_argument("--measure", required=True)
    parser.add_argument("--rehearsal")
    parser.add_argument("--only")
    options = parser.parse_args()
    entries = pronounce.load_dictionary(options.dictionary)
    only = data.load_exclusions(options.only)

    def clips(pack):
        sound = np.load(pack + ".npy")
        for row in data.rows(pack + ".tsv"):
            wave = sound[int(row["start"]):int(row["start"]) + int(row["samples"])].astype(np.float64) / 32768
            if not only or row["set"] == "fsdd" or data.speaker_key(row["set"], row["speaker"]) in only or row["set"].startswith(("noise", "synth")):
                yield row["set"], row["transcript"], wave

    measured = list(clips(options.measure))
    recordings = [wave for name, _, wave in measured if name.startswith("noise_")]
    sets = {"20 command words and digits": [(t, w) for s, t, w in measured if s == "speech_commands" and t in WORDS],
            "number strings and commands": [(t, w) for s, t, w in measured if s == "an4"],
            "10 digits, 8 kHz source": [(t, w) for s, t, w in measured if s == "fsdd"]}
    candidates = {"20 command words and digits": WORDS, "10 digits, 8 kHz source": phrases.DIGITS,
                  "number strings and commands": sorted({t for t, _ in sets["number strings and commands"]})}
    if options.rehearsal:
        said = list(clips(options.rehearsal))
        known = phrases.CLAIMS + phrases.GLOBALS
        codes = ["affirm %s %s" % (a, b) for a in phrases.DIGITS for b in phrases.DIGITS]
        sets["product phrases, rehearsal voices"] = [(t, w) for _, t, w in said if t in known]
        sets["affirm and two digits, rehearsal voices"] = [(t, w) for _, t, w in said if t in codes]
        candidates["product phrases, rehearsal voices"], candidates["affirm and two digits, rehearsal voices"] = known, codes

    with ProcessPoolExecutor(os.cpu_count(), initializer=start, initargs=(options.network, recordings)) as pool:
        print("%-42s %5s  %s" % ("set", "clips", "  ".join("%s %s" % (k, "" if s is None else s) for k, s in CONDITIONS)))
        for name, said in sets.items():
            if not said:
                continue
            forms, owner = candidate_forms(candidates[name], entries)
            figures = []
            for kind, snr in CONDITIONS:
                jobs = [(wave, text, candidates[name], forms, owner, kind, snr, i) for i, (text, wave) in enumerate(said)]
                figures.append(100 * np.mean(list(pool.map(answer, jobs, chunksize=8))))
            print("%-42s %5d  %s" % (name, len(said), "  ".join("%6.1f" % figure for figure in figures)), flush=True)
        counted = list(pool.map(phones_in_noise, [r[i:i + 48000] for r in recordings for i in range(0, len(r) - 16000, 48000)]))
        print("phones heard in %.0f s of unseen noise alone: %d" % (sum(n for _, n in counted) / 16000, sum(p for p, _ in counted)))


if __name__ == "__main__":
    main()
