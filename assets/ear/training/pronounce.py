"""Words to phone sequences: the CMU dictionary (any variant), a few words of our own, and rough British variants."""
import random
import re

PHONES = ("AA AE AH AO AW AY B CH D DH EH ER EY F G HH IH IY JH K L M N NG OW OY P R S SH T TH UH UW V W Y Z ZH").split()
LABELS = ["<blank>"] + PHONES
INDEX = {label: index for index, label in enumerate(LABELS)}
VOWELS = set("AA AE AH AO AW AY EH ER EY IH IY OW OY UH UW".split())

EXTRA = {
    "a.": ["EY"], "millivolts": ["M IH L IH V OW L T S", "M IH L AH V OW L T S"], "amps": ["AE M P S"],
    "niner": ["N AY N ER"], "refitted": ["R IY F IH T IH D", "R IY F IH T AH D"]}
BATH = set("after afternoon ask asked answer bath path grass glass class fast last past pass passed half calf laugh can't chance dance "
           "plant branch advance example sample staff mask task basket rather command demand master castle plaster".split())
PALM = set("father calm palm drama spa half llama".split())


def load_dictionary(path):
    entries = {}
    for line in open(path, encoding="utf-8"):
        word, *phones = line.split()
        entries.setdefault(re.sub(r"\(\d+\)$", "", word), []).append(phones)
    for word, forms in EXTRA.items():
        entries[word] = [form.split() for form in forms]
    return entries


def british(word, phones, next_is_vowel, rng):
    """A plausible non-rhotic form. Rules, not a dictionary: right often enough to learn from."""
    out = []
    for i, phone in enumerate(phones):
        after = phones[i + 1] if i + 1 < len(phones) else None
        before_vowel = after in VOWELS if after else (next_is_vowel and rng.random() < 0.6)
        if phone == "R" and out and out[-1] in VOWELS and not before_vowel:
            if out[-1] in ("AY", "AW", "IH", "IY") and rng.random() < 0.7:
                out.append("AH")
            elif out[-1] == "UH":
                out[-1] = "AO"
        elif phone == "ER" and sum(p in VOWELS for p in phones) > 1 and (after is None or after in VOWELS or phones[i + 1:] in (["D"], ["Z"])) and rng.random() < 0.6:
            out += ["AH", "R"] if before_vowel else ["AH"]
        elif phone == "ER" and before_vowel:
            out += ["ER", "R"]
        elif phone == "AE" and word in BATH and rng.random() < 0.7:
            out.append("AA")
        elif phone == "AA" and after != "R" and word not in PALM and rng.random() < 0.5:
            out.append("AO")
        elif phone == "UW" and i and phones[i - 1] in "TDN" and ("u" in word or "ew" in word) and rng.random() < 0.8:
            out += ["Y", "UW"]
        else:
            out.append(phone)
    return out


def pronounce(words, entries, accent, rng):
    """One random pronunciation as label indexes, or None where a word is unknown."""
    if any(word not in entries for word in words):
        return None
    chosen = [rng.choice(entries[word]) for word in words]
    if accent == "gb" and rng.random() < 0.85:
        following = [c[0] in VOWELS for c in chosen[1:]] + [False]
        chosen = [british(w, c, f, rng) for w, c, f in zip(words, chosen, following)]
    return [INDEX[phone] for phones in chosen for phone in phones]


def variants(words, entries, accent, count, seed):
    rng = random.Random(seed)
    forms = [pronounce(words, entries, accent, rng) for _ in range(count)]
    return None if forms[0] is None else forms
