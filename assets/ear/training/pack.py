"""Makes and decodes packs: NAME.opus (or NAME.flac) with NAME.tsv beside: start, samples, set, speaker, transcript.

    pack.py decode NAME.opus ...            NAME.npy (int16, 16 kHz), on all cores, with libopusfile (or flac)
    pack.py excluded MANIFEST OUT           the speakers of the measuring data, one a line
    pack.py noise MANIFEST OUT              the noise recordings to train on (not those of HELD_OUT) as an Opus pack
    pack.py measure MANIFEST OUT            single words, digits, number strings and all noise as a lossless pack
"""
import csv
import ctypes
import os
import subprocess
import sys
from concurrent.futures import ProcessPoolExecutor

import numpy as np
from scipy.io import wavfile
from scipy.signal import resample_poly

import data

# never trained on: the noise to measure with
HELD_OUT = ("blanket/city", "blanket/wind", "esc10/chainsaw_4-149294", "esc10/rain_4-166661", "mtsounds/vehicle_motor_idle",
            "mtsounds/compressor_motor", "mtsounds/rain_heavy", "mtsounds/vehicle_horn", "precise_bg/bg_noise3", "precise_bg/bg_noise7")


def held_out(path):
    return any(name in path for name in HELD_OUT)


def read_opus(job):
    """Samples [first, last) at 16 kHz of an Opus file, by seeking: lets several processes share one file."""
    path, first, last = job
    library = ctypes.CDLL("libopusfile.so.0")
    library.op_open_file.restype = ctypes.c_void_p
    handle = ctypes.c_void_p(library.op_open_file(path.encode(), None))
    begin = max(0, first - 400)
    library.op_pcm_seek(handle, ctypes.c_int64(begin * 3))
    wanted = (last + 400 - begin) * 3
    out, filled = np.zeros(wanted + 11520, np.int16), 0
    while filled < wanted:
        pointer = ctypes.c_void_p(out.ctypes.data + 2 * filled)
        got = library.op_read(handle, pointer, 5760, None)
        if got <= 0:
            break
        filled += got
    library.op_free(handle)
    sound = resample_poly(out[:filled].astype(np.float32), 1, 3)[first - begin:last - begin]
    return np.clip(np.rint(sound), -32768, 32767).astype(np.int16)


def decode(path):
    target = os.path.splitext(path)[0] + ".npy"
    if path.endswith(".flac"):
        raw = subprocess.run(["flac", "-d", "-s", "-c", "--force-raw-format", "--endian=little", "--sign=signed", path], check=True, stdout=subprocess.PIPE).stdout
        np.save(target, np.frombuffer(raw, np.int16))
        return
    table = data.rows(os.path.splitext(path)[0] + ".tsv")
    total = int(table[-1]["start"]) + int(table[-1]["samples"])
    step = 16000 * 120
    jobs = [(path, first, min(total, first + step)) for first in range(0, total, step)]
    with ProcessPoolExecutor() as pool:
        np.save(target, np.concatenate(list(pool.map(read_opus, jobs))))


def read_flac(path):
    wav = subprocess.run(["flac", "-d", "-s", "-c", path], check=True, stdout=subprocess.PIPE).stdout
    rate = int.from_bytes(wav[24:28], "little")
    samples = np.frombuffer(wav[44:], np.int16)
    if rate == 16000:
        return samples
    return np.clip(resample_poly(samples.astype(np.float32), 16000 // 8000, rate // 8000), -32768, 32767).astype(np.int16)


def write_pack(manifest, out, chosen, command):
    """chosen: manifest rows; command: encoder command line with {wav} and {out}."""
    folder, start, pieces = os.path.dirname(manifest), 0, []
    with open(out + ".tsv", "w") as table:
        table.write("start\tsamples\tset\tspeaker\ttranscript\tuse\tpath\n")
        for row in chosen:
            sound = read_flac(os.path.join(folder, row["path"]))
            table.write("\t".join([str(start), str(len(sound)), row["set"], row["speaker"], row["transcript"].lower(), row["use"], row["path"]]) + "\n")
            pieces.append(sound)
            start += len(sound)
    wavfile.write(out + ".wav", 16000, np.concatenate(pieces))
    subprocess.run([part.format(wav=out + ".wav", out=out) for part in command], check=True)
    os.remove(out + ".wav")
    print("%d clips, %.1f min" % (len(pieces), start / 960000))


def main():
    verb, *rest = sys.argv[1:]
    if verb == "decode":
        for path in rest:
            decode(path)
        return
    manifest, out = rest
    table = list(csv.DictReader(open(manifest, encoding="utf-8"), delimiter="\t", quoting=csv.QUOTE_NONE))
    if verb == "excluded":
        people = {data.speaker_key(row["set"], row["speaker"]) for row in table if row["set"] in ("speech_commands", "an4", "librispeech") and row["speaker"] != "-"}
        open(out, "w").write("\n".join(sorted(people)) + "\n")
    elif verb == "noise":
        chosen = [row for row in table if row["set"].startswith("noise_") and not held_out(row["path"])]
        write_pack(manifest, out, chosen, ["opusenc", "--quiet", "--bitrate", "56", "{wav}", "{out}.opus"])
    elif verb == "measure":
        chosen = [row for row in table if row["set"].startswith("noise_") and held_out(row["path"])]
        chosen += [row for row in table if row["set"] in ("speech_commands", "an4", "fsdd") and row["use"] in ("command", "digit", "number", "command+number")]
        write_pack(manifest, out, chosen, ["flac", "-8", "-s", "-f", "-o", "{out}.flac", "{wav}"])


if __name__ == "__main__":
    main()
