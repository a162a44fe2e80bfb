"""Loads decoded packs (pack.py decode) into one array, with speakers excluded, dev speakers held out, pronunciations drawn."""
import csv
import os
import re

import numpy as np

import pronounce

WEIGHTS = {"gsc_v001_part": 4, "nato_kahn": 5, "alphanumeric_numbers": 5, "vctk_part": 2, "speechocean762_adult": 1.5, "sc": 1.5, "an4": 3}
BRITISH = ("synth_gb", "vctk_part")
FORMS = 8                        # pronunciations drawn for each clip


def speaker_key(set_name, speaker):
    """One name for one person across the packs and the measuring data: sc-022cd682, ls-1188, an4-fbbh."""
    if set_name in ("sc", "gsc_v001_part", "speech_commands"):
        return "sc-" + re.sub("^(gsc_|sc-)", "", speaker)
    if set_name in ("ls", "librispeech_train100_part", "librispeech"):
        return "ls-" + re.search(r"\d+", speaker).group()
    return speaker


def is_dev(set_name, speaker):
    """Held out to watch training: 1 in 12 human speakers, by name."""
    if set_name.startswith("synth"):
        return False
    return sum(ord(c) * (i + 7) for i, c in enumerate(speaker_key(set_name, speaker))) % 12 == 5


def rows(path):
    return list(csv.DictReader(open(path, encoding="utf-8"), delimiter="\t", quoting=csv.QUOTE_NONE))


def load(packs, excluded, dictionary, seed, longest=16.5):
    """packs: paths without ending, .npy and .tsv beside. Returns the samples and a dict of equally long arrays."""
    entries = pronounce.load_dictionary(dictionary)
    sounds, clips, offset, unknown = [], [], 0, 0
    for pack in packs:
        sound = np.load(pack + ".npy", mmap_mode="r")
        for row in rows(pack + ".tsv"):
            words = row["transcript"].split()
            if row["set"] == "an4":                       # spelled words: the letter, not the article
                words = ["a." if w == "a" else w for w in words]
            start, length = int(row["start"]), int(row["samples"])
            if speaker_key(row["set"], row["speaker"]) in excluded or length > longest * 16000 or start + length > len(sound):
                continue
            accent = "gb" if row["set"] in BRITISH else "us"
            forms = pronounce.variants(words, entries, accent, FORMS, seed + len(clips))
            if forms is None or not words:
                unknown += 1
                continue
            clips.append((offset + start, length, row["set"], row["speaker"], row["transcript"], forms))
        sounds.append(sound)
        offset += len(sound)
    table = {"start": np.array([c[0] for c in clips]), "length": np.array([c[1] for c in clips]), "set": np.array([c[2] for c in clips]),
             "text": np.array([c[4] for c in clips])}
    table["weight"] = np.array([WEIGHTS.get(s, 1.0) for s in table["set"]])
    table["dev"] = np.array([is_dev(c[2], c[3]) for c in clips])
    width = max(len(form) for c in clips for form in c[5])
    table["forms"] = np.zeros((len(clips), FORMS, width), np.uint8)
    table["form_length"] = np.zeros((len(clips), FORMS), np.int64)
    for i, clip in enumerate(clips):
        for j, form in enumerate(clip[5]):
            table["forms"][i, j, :len(form)] = form
            table["form_length"][i, j] = len(form)
    for name in sorted(set(table["set"])):
        mask = table["set"] == name
        print("%-28s %6d clips %6.2f h, dev %d" % (name, mask.sum(), table["length"][mask].sum() / 57.6e6, table["dev"][mask].sum()))
    print("skipped for unknown words: %d" % unknown)
    return np.concatenate(sounds), table


def load_exclusions(path):
    return set(open(path).read().split()) if path and os.path.exists(path) else set()
