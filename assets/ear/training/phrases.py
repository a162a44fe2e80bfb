"""What a technician may say to the Companion, as random lines of words, for the synthetic part of the training data.

Words are written the way pronounce.py looks them up: lower case, digits as words, the letter A as "a.".
"""
import random

DIGITS = "zero one two three four five six seven eight nine".split()
TEENS = "ten eleven twelve thirteen fourteen fifteen sixteen seventeen eighteen nineteen".split()
TENS = "twenty thirty forty fifty sixty seventy eighty ninety".split()
ALPHABET = ("alfa bravo charlie delta echo foxtrot golf hotel india juliet kilo lima mike november oscar papa quebec romeo "
            "sierra tango uniform victor whiskey x-ray yankee zulu").split()
LETTERS = "a. b c d e f g h i j k l m n o p q r s t u v w x y z".split()

CLAIMS = [
    "ready", "done", "checked", "opened", "fitted", "removed", "covered", "proved", "proved dead", "clear to work",
    "nothing shown", "start test", "nothing touched", "yes", "no", "next"]
GLOBALS = [
    "stop", "help me", "say again", "wrong", "affirm", "cannot do", "how long", "status", "i am all right", "leave now",
    "casualty", "not there", "cannot reach", "it is damaged", "it is stuck", "no tool", "key on", "key off", "engine started",
    "twelve volt restored", "vehicle woke", "plug refitted", "charger connected", "wheels turned", "vehicle towed", "lock",
    "tag", "take the other way", "hand over", "treat as live", "correction"]
# ordinary words that stand near the above, so that the network hears the difference
NEIGHBOURS = [
    "confirm", "firm", "start", "help", "again", "right", "left", "go", "on", "off", "up", "down", "open", "close", "closed",
    "fit", "remove", "cover", "prove", "dead", "live", "clear", "work", "nothing", "test", "touched", "shown", "key", "engine",
    "wait", "repeat", "back", "over", "ready to go", "not ready", "not done", "all right", "insulated", "isolated", "locked",
    "tagged", "connected", "damaged", "stuck", "battery", "service plug", "gloves", "tester", "red to black", "red to chassis",
    "orange cable", "front axle", "rear axle", "twelve volt battery", "charge inlet", "bonnet", "boot", "smoke", "fire", "fluid"]


def digit(rng):
    d = rng.choice(DIGITS)
    if d == "zero" and rng.random() < 0.2:
        return "oh"
    if d == "nine" and rng.random() < 0.25:
        return "niner"
    return d


def digits(rng, least, most):
    return " ".join(digit(rng) for _ in range(rng.randint(least, most)))


def code(rng):
    return rng.choice(["affirm %s", "affirm %s", "affirm %s", "affirm code %s", "code %s", "%s"]) % digits(rng, 2, 2)


def spoken_number(rng):
    kind = rng.randrange(5)
    if kind == 0:
        return rng.choice(TEENS)
    if kind == 1:
        return rng.choice(TENS) + rng.choice(["", " " + rng.choice(DIGITS[1:])])
    if kind == 2:
        return rng.choice(DIGITS[1:]) + " hundred" + rng.choice(["", "", " and " + rng.choice(TENS), " " + rng.choice(TENS) + " " + rng.choice(DIGITS[1:])])
    if kind == 3:
        return rng.choice(["one", "two", "three"]) + " thousand"
    return rng.choice(DIGITS[1:]) + " " + rng.choice(TENS) + rng.choice(["", " " + rng.choice(DIGITS[1:])])


def reading(rng):
    point = rng.choice(["decimal", "decimal", "point"])
    value = rng.choice([
        lambda: digits(rng, 1, 4),
        lambda: digits(rng, 1, 3) + " " + point + " " + digits(rng, 1, 2),
        lambda: digit(rng) + " " + point + " " + digit(rng),
        lambda: spoken_number(rng)])()
    unit = rng.choice(["volts", "volts", "volts", "volts", "volt", "millivolts", "amps", "ohms", ""])
    kind = rng.choice(["", "", "", "d c", "a. c"]) if unit.startswith("volt") else ""
    sign = rng.choice(["", "", "", "", "minus", "below", "below"])
    return " ".join(w for w in (sign, value, unit, kind) if w)


def lock(rng):
    return rng.choice(["lock %s", "fitted lock %s", "removed lock %s", "tag %s", "fitted tag %s", "lock number %s"]) % digits(rng, 1, 3)


def spelling(rng):
    return " ".join(rng.choice(ALPHABET) for _ in range(rng.randint(1, 4)))


def letters(rng):
    return " ".join(rng.choice(LETTERS) for _ in range(rng.randint(1, 5)))


def compound(rng):
    first = rng.choice(CLAIMS + GLOBALS)
    return rng.choice([
        lambda: first + " " + code(rng),
        lambda: rng.choice(["i have ", "it is ", "we are ", "that is "]) + first,
        lambda: first + " " + rng.choice(CLAIMS + GLOBALS + NEIGHBOURS)])()


def line(rng, words, sentences):
    """One random line. words: single words of running speech; sentences: lists of words to cut pieces from."""
    kinds = [(16, code), (9, lambda r: digits(r, 1, 1)), (12, lambda r: digits(r, 2, 6)), (14, reading), (9, lambda r: r.choice(CLAIMS)),
             (12, lambda r: r.choice(GLOBALS)), (6, lambda r: r.choice(NEIGHBOURS)), (4, lock), (5, spelling), (2, letters), (4, compound),
             (3, spoken_number), (9, lambda r: r.choice(words)), (12, lambda r: piece(r, sentences))]
    pick = rng.random() * sum(weight for weight, _ in kinds)
    for weight, make in kinds:
        pick -= weight
        if pick < 0:
            return make(rng)
    return code(rng)


def piece(rng, sentences):
    sentence = rng.choice(sentences)
    length = rng.randint(2, 8)
    start = rng.randrange(max(1, len(sentence) - length + 1))
    return " ".join(sentence[start:start + length])


if __name__ == "__main__":
    generator = random.Random(1)
    for _ in range(40):
        print(line(generator, ["example"], [["an", "example", "of", "running", "speech"]]))
