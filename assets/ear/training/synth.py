"""Speaks random lines with free synthesisers and packs them: OUT.opus and OUT.tsv, in the format of the human packs.

    python3 synth.py OUT --count 9000 --seed 1 --transcripts ear_a.tsv ear_b.tsv [--rehearsal]

Needs flite, festival (festvox-kallpc16k, -kdlpc16k, -us-slt-hts), espeak-ng, opus-tools and numpy, scipy.
The voices of REHEARSAL are for measuring and rehearsing only and are never used for training.
"""
import argparse
import csv
import os
import random
import subprocess
import tempfile
from concurrent.futures import ThreadPoolExecutor

import numpy as np
from scipy.io import wavfile
from scipy.signal import resample_poly

import phrases

FLITE = {"slt": 175, "rms": 105, "kal16": 100, "kal": 100}
FESTIVAL = {"ked_diphone": 105, "kal_diphone": 105, "cmu_us_slt_arctic_hts": 0}
ESPEAK = [base + variant for base in ("en-gb", "en-gb-x-gbclan", "en-gb-x-gbcwmd", "en-029")
          for variant in ("+m1", "+m2", "+m4", "+m5", "+m7", "+f1", "+f2", "+f4", "+f5")]
WEIGHTED = [("flite", 48), ("festival", 20), ("espeak", 32)]
REHEARSAL = [("flite", "awb"), ("espeak", "en-gb-scotland"), ("espeak", "en-gb-x-rp"), ("espeak", "en-us"), ("espeak", "en-us+f3"), ("espeak", "en-us+m3")]
SPOKEN = {"a.": "ay", "millivolts": "milli volts", "x-ray": "x ray", "alfa": "alpha"}
BRITISH = ("en-gb", "en-029")


def choose_voice(rng, rehearsal):
    if rehearsal:
        return rng.choice(REHEARSAL)
    engine = rng.choices([name for name, _ in WEIGHTED], [weight for _, weight in WEIGHTED])[0]
    if engine == "flite":
        return engine, rng.choices(list(FLITE), [36, 36, 22, 6])[0]
    if engine == "festival":
        return engine, rng.choices(list(FESTIVAL), [50, 15, 35])[0]
    return engine, rng.choice(ESPEAK)


def speak(engine, voice, text, path, rng):
    if engine == "flite":
        command = ["flite", "-voice", voice, "--setf", "duration_stretch=%.2f" % rng.uniform(0.75, 1.3)]
        command += ["--setf", "int_f0_target_mean=%d" % (FLITE.get(voice, 110) * rng.uniform(0.8, 1.25)), "-t", text, path]
    else:
        command = ["espeak-ng", "-v", voice, "-s", str(rng.randint(115, 215)), "-p", str(rng.randint(20, 80)), "-g", str(rng.choice([0, 0, 1, 3])), "-w", path, text]
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)


def speak_festival(voice, jobs, rng):
    """jobs: (text, path) list; one process for all of them, since festival starts slowly."""
    lines = ["(voice_%s)" % voice]
    for text, path in jobs:
        lines.append("(Parameter.set 'Duration_Stretch %.2f)" % rng.uniform(0.8, 1.3))
        if FESTIVAL[voice]:
            lines.append("(set! int_lr_params '((target_f0_mean %d) (target_f0_std %d) (model_f0_mean 170) (model_f0_std 34)))"
                         % (FESTIVAL[voice] * rng.uniform(0.8, 1.4), rng.uniform(6, 18)))
        lines.append('(utt.save.wave (SynthText "%s") "%s" \'riff)' % (text, path))
    with tempfile.NamedTemporaryFile("w", suffix=".scm") as script:
        script.write("\n".join(lines))
        script.flush()
        subprocess.run(["festival", "--batch", script.name], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)


def load(path):
    rate, data = wavfile.read(path)
    data = data.astype(np.float32)
    if rate != 16000:
        common = np.gcd(rate, 16000)
        data = resample_poly(data, 16000 // common, rate // common)
    loud = np.flatnonzero(np.abs(data) > 0.01 * np.abs(data).max())
    if len(loud) < 1600:
        return None
    data = data[max(0, loud[0] - 480):loud[-1] + 960]
    return (data * (12000 / np.abs(data).max())).astype(np.int16)


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("out")
    parser.add_argument("--count", type=int, default=9000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--transcripts", nargs="*", default=[])
    parser.add_argument("--rehearsal", action="store_true")
    parser.add_argument("--bitrate", default="15")
    options = parser.parse_args()
    rng = random.Random(options.seed)

    sentences = [row["transcript"].split() for name in options.transcripts for row in csv.DictReader(open(name), delimiter="\t", quoting=csv.QUOTE_NONE)]
    sentences = [s for s in sentences if len(s) > 1] or [["nothing", "else"]]
    words = sorted({w for s in sentences for w in s if len(w) > 2})

    with tempfile.TemporaryDirectory() as folder:
        jobs = []
        for index in range(options.count):
            engine, voice = choose_voice(rng, options.rehearsal)
            text = phrases.line(rng, words, sentences)
            spoken = " ".join(SPOKEN.get(w, w) for w in text.split())
            jobs.append((engine, voice, text, spoken, os.path.join(folder, "%d.wav" % index), random.Random(index + options.seed * 1000003)))

        batches = []
        for voice in FESTIVAL:
            mine = [(spoken, path) for engine, v, _, spoken, path, _ in jobs if engine == "festival" and v == voice]
            batches += [(voice, mine[i:i + 100], random.Random(options.seed + i)) for i in range(0, len(mine), 100)]
        with ThreadPoolExecutor(os.cpu_count() + 1) as pool:
            done = [pool.submit(speak_festival, *batch) for batch in batches]
            done += [pool.submit(speak, engine, voice, spoken, path, r) for engine, voice, _, spoken, path, r in jobs if engine != "festival"]
            for future in done:
                future.result()

        start, pieces = 0, []
        with open(options.out + ".tsv", "w") as table:
            table.write("start\tsamples\tset\tspeaker\ttranscript\n")
            for engine, voice, text, _, path, _ in jobs:
                data = load(path) if os.path.exists(path) and os.path.getsize(path) > 2000 else None
                if data is None:
                    continue
                accent = "gb" if voice.startswith(BRITISH) or voice == "awb" else "us"
                table.write("%d\t%d\tsynth_%s\t%s:%s\t%s\n" % (start, len(data), accent, engine, voice, text))
                pieces.append(data)
                start += len(data)
        wav = os.path.join(folder, "all.wav")
        wavfile.write(wav, 16000, np.concatenate(pieces))
        subprocess.run(["opusenc", "--quiet", "--bitrate", options.bitrate, wav, options.out + ".opus"], check=True)
        print("%d clips, %.2f h" % (len(pieces), start / 16000 / 3600))


if __name__ == "__main__":
    main()
