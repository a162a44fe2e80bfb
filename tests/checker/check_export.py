#!/usr/bin/env python3
"""Checks an exported journal of the Companion from its events alone.

    ./companion export --store DIR > job.ndjson
    python3 tests/checker/check_export.py job.ndjson [MORE ...]     "-" reads standard input
    python3 tests/checker/check_export.py job.ndjson --proof job.proof.json
    python3 tests/checker/check_export.py --self-test

It shares no code with the Companion. It is written from the design (section 3, the invariants I1 ...; section 5, the journal), so that
two programs by two readings must agree before a record is believed. Python 3.9 or later, standard library only.

It prints one line for each fault, `line N: RULE: what is wrong`, and last `N entries, N jobs, N faults`. RULE is the number of an
invariant, or: form (the entry is not what the format says), chain, sealed, signature, proof (a watch room's proof does not hold; its
line is the last of the file). Exit code 0: no fault; 1: faults; 2: no journal
could be read. After a fault it goes on as if the record had been right there; what rests on the fault may be named again.

It does not look at equipment and dates (I4), codes other than those after a gap (I8), warnings and stops (I16, I19), check-ins and alerts
(I10, I11) or who may do what alone (I23). It cannot see what was never written, nor whether what was said was true; and a signature
tells only that the store's own key made it: whose key that is must be known from elsewhere.
"""
import base64
import binascii
import hashlib
import json
import re
import sys
from decimal import Decimal, InvalidOperation

SECOND = 1_000_000_000  # clock readings are nanoseconds
LONGEST_SILENCE = 15 * SECOND  # while a wait runs an anchor comes every 10 s (I2); a longer silence was watched by nobody
SLEEP_NOISE = SECOND // 10  # two clocks read one after the other never quite agree; a difference above this is sleep


class Unreadable(Exception):
    """The input is no journal; the message says why."""


class Faults(list):
    """The faults found in one file."""

    def add(self, line, rule, sentence):
        """Takes note of one fault."""
        self.append((line, rule, sentence))

    def lines(self):
        """The faults as they are printed, in the order of the file's lines."""
        return [f"line {line}: {rule}: {sentence}" for line, rule, sentence in sorted(self, key=lambda fault: fault[0])]


# --------------------------------------------------------------------------------------------------------------------------- entries
MEMBERS = {"bootid", "data", "datacontenttype", "dataschema", "hash", "id", "prevhash", "rehearsal", "sequence", "source",
           "specversion", "time", "type", "uptime"}
FIXED = {"specversion": "1.0", "datacontenttype": "application/json", "dataschema": "urn:companion:journal:1"}
PATTERNS = {
    "hash": r"[0-9a-f]{64}", "prevhash": r"[0-9a-f]{64}", "sequence": r"[0-9]{10}", "uptime": r"0|[1-9][0-9]{0,18}",
    "id": r"[A-Za-z0-9._-]{1,64}/[0-9]{10}", "type": r"[a-z0-9]+(\.[a-z0-9]+)*", "bootid": r".{1,64}",
    "source": r"urn:uuid:[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}",
    "time": r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{7}[+-]\d\d:\d\d",
}
PATTERNS = {name: re.compile(pattern, re.ASCII | re.DOTALL) for name, pattern in PATTERNS.items()}
NAME = re.compile("[a-z0-9]+")
LARGEST = 2 ** 53 - 1


def canonical(value):
    """The RFC 8785 form of texts, whole numbers, flags, lists and objects whose names are a-z and 0-9: all that an entry may hold."""
    return json.dumps(value, ensure_ascii=False, sort_keys=True, separators=(",", ":")).encode("utf-8")


def misfit_of_value(value):
    """What a journal may not hold: fractions, numbers that some readers round, names outside a-z and 0-9. None when there is none."""
    if isinstance(value, dict):
        wrong = next((name for name in value if not NAME.fullmatch(name)), None)
        return f"the name '{wrong}'" if wrong is not None else next(filter(None, map(misfit_of_value, value.values())), None)
    if isinstance(value, list):
        return next(filter(None, map(misfit_of_value, value)), None)
    if isinstance(value, float) or (isinstance(value, int) and abs(value) > LARGEST):
        return f"the number {value}"
    return None


class Entry:
    """One line of the export: the attributes of the entry, and where it stands."""

    def __init__(self, line, members, sealed):
        self.line = line
        self.members = members
        self.sealed = sealed
        self.chain, number = members["id"].rsplit("/", 1)
        self.sequence = int(number)
        self.type = members["type"]
        self.data = members["data"]
        self.boot = members["bootid"]
        self.uptime = int(members["uptime"])
        self.hash = members["hash"]
        self.previous = members["prevhash"]

    def computed_hash(self):
        """SHA-256 over the 32 bytes of the previous hash and the canonical form without the hash."""
        bare = {name: value for name, value in self.members.items() if name != "hash"}
        return hashlib.sha256(bytes.fromhex(self.previous) + canonical(bare)).hexdigest()


def read_entry(line, raw, faults):
    """The entry of a line, or None, with a fault, when the line holds none."""
    try:
        members = json.loads(raw.decode("utf-8"))
        form = canonical(members) if isinstance(members, dict) else None
    except (ValueError, RecursionError) as cause:
        return faults.add(line, "form", f"this is not an entry ({cause})")
    if form is None:
        return faults.add(line, "form", "this is not an entry (not a JSON object)")
    if form != raw:
        faults.add(line, "form", "the line is not in its canonical form (RFC 8785)")
    sealed = members.pop("sealed", {})
    wrong = misfit_of_members(members) or misfit_of_value(members.get("data"))
    if wrong:
        return faults.add(line, "form", f"an entry cannot hold this: {wrong}")
    return Entry(line, members, sealed)


def misfit_of_members(members):
    """What is wrong with the attributes; None when nothing is."""
    if members.keys() != MEMBERS:
        return f"members that are missing or too many: {', '.join(sorted(members.keys() ^ MEMBERS))}"
    for name, value in FIXED.items():
        if members[name] != value:
            return f"{name} is not {value}"
    for name, pattern in PATTERNS.items():
        if not isinstance(members[name], str) or not pattern.fullmatch(members[name]):
            return f"{name} is {members[name]!r}"
    if not isinstance(members["data"], dict) or not isinstance(members["rehearsal"], bool):
        return "data is not an object, or rehearsal is not true or false"
    return None if members["id"].endswith("/" + members["sequence"]) else "id and sequence differ"


# ---------------------------------------------------------------------------------------------------------------------------- chains
class Chains:
    """All chains of one export: every entry follows the one before, fits its hash, and what is sealed beside it fits what it holds."""

    TABLET = "tablet"
    FIRST = "0" * 64

    def __init__(self, faults):
        self.faults = faults
        self.heads = {}
        self.hashes = {}
        self.common = None

    def take(self, entry):
        """Checks the next entry and remembers it as the end of its chain."""
        last, hash_before = self.heads.get(entry.chain, (0, self.FIRST))
        if entry.computed_hash() != entry.hash:
            self.faults.add(entry.line, "chain", "the entry does not fit its own hash: it was changed after it was written")
        if entry.sequence != last + 1 and not (entry.type == "segment.started" and entry.sequence > last):
            self.faults.add(entry.line, "chain", f"this is entry {entry.sequence} of {entry.chain}, after entry {last}: entries are missing or doubled")
        elif entry.previous != hash_before:
            self.faults.add(entry.line, "chain", f"it does not follow entry {last} of {entry.chain}, which has another hash")
        if entry.chain == self.TABLET and last == 0 and entry.type not in ("store.created", "segment.started"):
            self.faults.add(entry.line, "chain", f"a store begins with store.created, not with {entry.type}")
        common = (entry.members["source"], entry.members["rehearsal"])
        if common != (self.common or common):
            self.faults.add(entry.line, "chain", "entries of two tablets, or of real jobs and rehearsals, are mixed")
        self.common = self.common or common
        self.check_sealed(entry)
        self.heads[entry.chain] = (entry.sequence, entry.hash)
        self.hashes[entry.chain, entry.sequence] = entry.hash

    def check_sealed(self, entry):
        """A sealed text belongs to the entry when SHA-256 over salt and text is what the chain carries under its name."""
        for name, text in entry.sealed.items():
            sealed = hashlib.sha256(bytes.fromhex(text["salt"]) + text["text"].encode("utf-8")).hexdigest()
            if sealed != entry.data.get(name) or text["salt"] != text["salt"].lower():
                self.faults.add(entry.line, "sealed", f"the text beside '{name}' is not the one that the entry was made with")


# ------------------------------------------------------------------------------------------------------------------------ signatures
class Curve:
    """ECDSA on NIST P-256 with SHA-256 (FIPS 186-4; the constants are those of its appendix D.1.2.3). Points are (X, Y, Z) with
    x = X / Z^2 and y = Y / Z^3, so that only one division is needed for a signature; Z = 0 is the point at infinity."""

    P = 2 ** 256 - 2 ** 224 + 2 ** 192 + 2 ** 96 - 1
    N = 0xFFFFFFFF00000000FFFFFFFFFFFFFFFFBCE6FAADA7179E84F3B9CAC2FC632551
    B = 0x5AC635D8AA3A93E7B3EBBD55769886BC651D06B0CC53B0F63BCE3C3E27D2604B
    G = (0x6B17D1F2E12C4247F8BCE6E563A440F277037D812DEB33A0F4A13945D898C296,
         0x4FE342E2FE1A7F9B8EE7EB4A7C0F9E162BCE33576B315ECECBB6406837BF51F5, 1)
    INFINITY = (1, 1, 0)

    @classmethod
    def holds(cls, x, y):
        """True for a point of the curve y^2 = x^3 - 3x + b."""
        return 0 <= x < cls.P and 0 <= y < cls.P and (y * y - (x * x * x - 3 * x + cls.B)) % cls.P == 0

    @classmethod
    def double(cls, point):
        """Twice a point."""
        x, y, z = point
        delta, gamma = z * z % cls.P, y * y % cls.P
        beta, alpha = x * gamma % cls.P, 3 * (x - delta) * (x + delta) % cls.P
        doubled = (alpha * alpha - 8 * beta) % cls.P
        return doubled, (alpha * (4 * beta - doubled) - 8 * gamma * gamma) % cls.P, 2 * y * z % cls.P

    @classmethod
    def add(cls, left, right):
        """The sum of two points."""
        if left[2] == 0 or right[2] == 0:
            return right if left[2] == 0 else left
        (x1, y1, z1), (x2, y2, z2) = left, right
        square1, square2 = z1 * z1 % cls.P, z2 * z2 % cls.P
        u, s = x1 * square2 % cls.P, y1 * square2 * z2 % cls.P
        h, r = (x2 * square1 - u) % cls.P, (y2 * square1 * z1 - s) % cls.P
        if h == 0:
            return cls.double(left) if r == 0 else cls.INFINITY
        h2 = h * h % cls.P
        h3, v = h * h2 % cls.P, u * h2 % cls.P
        x = (r * r - h3 - 2 * v) % cls.P
        return x, (r * (v - x) - s * h3) % cls.P, h * z1 * z2 % cls.P

    @classmethod
    def weighted_sum(cls, first, point, second, other):
        """first * point + second * other, both at once, bit by bit."""
        terms = (None, point, other, cls.add(point, other))
        total = cls.INFINITY
        for bit in range(max(first.bit_length(), second.bit_length()) - 1, -1, -1):
            total = cls.double(total)
            term = terms[(first >> bit & 1) + 2 * (second >> bit & 1)]
            total = cls.add(total, term) if term else total
        return total

    @classmethod
    def verifies(cls, key, message, signature):
        """True when the 64 bytes (r, s) are a signature of the message under the key, a point (x, y)."""
        if len(signature) != 64 or not cls.holds(*key):
            return False
        r, s = int.from_bytes(signature[:32], "big"), int.from_bytes(signature[32:], "big")
        if not (0 < r < cls.N and 0 < s < cls.N):
            return False
        inverse = pow(s, -1, cls.N)
        digest = int.from_bytes(hashlib.sha256(message).digest(), "big")
        x, _, z = cls.weighted_sum(digest * inverse % cls.N, cls.G, r * inverse % cls.N, (*key, 1))
        return z != 0 and x * pow(z * z, -1, cls.P) % cls.P % cls.N == r


class Heads:
    """The signed ends of job chains in the tablet's chain: signed with the tablet's key, and as the job chains really are."""

    SPKI_P256 = bytes.fromhex("3059301306072a8648ce3d020106082a8648ce3d03010703420004")
    """What stands before x and y in a SubjectPublicKeyInfo of a P-256 key (RFC 5480)."""

    def __init__(self, faults):
        self.faults = faults
        self.keys = {}
        self.statements = []
        self.due = []
        self.has_tablet = False

    def take(self, entry):
        """Learns keys and statements from the tablet's chain, and from job chains when a statement is due: at start and end."""
        if entry.chain != Chains.TABLET:
            if entry.type in ("job.opened", "job.closed", "job.handedover"):
                self.due.append(entry)
            return
        self.has_tablet = True
        if entry.type in ("store.created", "segment.started"):
            text = entry.data["publickey"]
            self.keys[hashlib.sha256(text.encode("ascii")).hexdigest()[:16]] = self.point_of(text)
        elif entry.type == "head.signed":
            self.statements.append(entry)
            if not self.is_signed(entry):
                self.faults.add(entry.line, "signature", f"the signed end of {entry.data['job']} does not fit the tablet's key")

    def point_of(self, text):
        """The point of a public key, or (0, 0), which no signature fits."""
        key = base64.b64decode(text, validate=True)
        known = len(key) == 91 and key.startswith(self.SPKI_P256)
        return (int.from_bytes(key[27:59], "big"), int.from_bytes(key[59:], "big")) if known else (0, 0)

    def is_signed(self, entry):
        """What is signed: which chain of which tablet ends where, and the entry of the tablet's chain before this one."""
        statement = {
            "job": entry.data["job"], "lasthash": entry.data["lasthash"], "lastsequence": entry.data["lastsequence"],
            "tablet": entry.members["source"][len("urn:uuid:"):], "tablethash": entry.previous}
        key = self.keys.get(entry.data["keyid"], (0, 0))
        return Curve.verifies(key, canonical(statement), base64.b64decode(entry.data["signature"], validate=True))

    def conclude(self, chains):
        """Compares the statements with the chains, once all entries are known."""
        reached = {}
        for entry in self.statements:
            job, sequence = entry.data["job"], entry.data["lastsequence"]
            reached[job] = max(sequence, reached.get(job, 0))
            present = chains.heads.get(job, (0, ""))[0]
            if present < sequence:
                self.faults.add(entry.line, "chain", f"{job} has {sequence} entries by its signed end; {present} are here: its end is missing")
            elif chains.hashes.get((job, sequence), entry.data["lasthash"]) != entry.data["lasthash"]:
                self.faults.add(entry.line, "chain", f"entry {sequence} of {job} is not the one that was signed as its end")
        for entry in self.due if self.has_tablet else []:
            if reached.get(entry.chain, 0) < entry.sequence:
                self.faults.add(entry.line, "chain", f"the signed end that goes with {entry.type} is missing: the tablet's chain is cut off")


# ----------------------------------------------------------------------------------------------------------------------------- proof
class Proof:
    """A watch room's proof of a job (shared/schemas/proof.schema.json), held against the export that it came with."""

    def __init__(self, raw):
        self.document = json.loads(raw.decode("utf-8"))

    def faults(self, chains, heads):
        """What does not hold, in sentences."""
        if self.document["format"] != "urn:companion:proof:1":
            yield "this is no proof of a known format"
            return
        members = dict(self.document["head"])
        wrong = misfit_of_members(members)
        if wrong:
            yield f"the signed end in it is no entry: {wrong}"
            return
        entry = Entry(0, members, {})
        if entry.chain != Chains.TABLET or entry.type != "head.signed" or entry.computed_hash() != entry.hash:
            yield "the signed end in it is none, or does not fit its hash"
        key = self.document["tabletkey"]
        heads.keys = {hashlib.sha256(key.encode("ascii")).hexdigest()[:16]: heads.point_of(key)}
        if not heads.is_signed(entry):
            yield "the tablet's signature does not fit the signed end"
        yield from self.end_faults(entry, chains)
        yield from self.tree_faults(entry, heads)

    @staticmethod
    def end_faults(entry, chains):
        """The end that was signed must be in the export, and be that entry."""
        job, sequence = entry.data["job"], entry.data["lastsequence"]
        if chains.common is not None and entry.members["source"] != chains.common[0]:
            yield "it is of another tablet than the export"
        if chains.heads.get(job, (0, ""))[0] < sequence:
            yield f"{job} has {sequence} entries by its signed end; {chains.heads.get(job, (0, ''))[0]} are here: its end is missing"
        elif chains.hashes.get((job, sequence)) != entry.data["lasthash"]:
            yield f"entry {sequence} of {job} is not the one that was signed as its end"

    def tree_faults(self, entry, heads):
        """The signed end must be a leaf of the tree whose root the watch room signed."""
        tree, path = self.document["treehead"], [bytes.fromhex(step) for step in self.document["path"]]
        signed = {"format": "urn:companion:tree:1", "root": tree["root"], "size": tree["size"], "time": tree["time"]}
        key = heads.point_of(self.document["roomkey"])
        if not Curve.verifies(key, canonical(signed), base64.b64decode(tree["signature"], validate=True)):
            yield "the watch room's signature does not fit its tree"
        leaf = hashlib.sha256(b"\0" + canonical(entry.members)).digest()
        if self.root(self.document["leafindex"], tree["size"], leaf, path) != bytes.fromhex(tree["root"]) or path:
            yield "the signed end is not in the watch room's tree at the place that is named"

    @classmethod
    def root(cls, index, size, leaf, path):
        """The root to which a path leads, from the top down as RFC 6962, section 2.1.1, defines it; the path is used up."""
        if not 0 <= index < size:
            return None
        if size == 1:
            return leaf
        left = 1 << (size - 1).bit_length() - 1
        if not path:
            return None
        other = path.pop()
        inner = cls.root(index, left, leaf, path) if index < left else cls.root(index - left, size - left, leaf, path)
        if inner is None:
            return None
        return hashlib.sha256(b"\1" + (inner + other if index < left else other + inner)).digest()


# ----------------------------------------------------------------------------------------------------------------------------- sheet
class Way:
    """One way through the pinned sheet: its steps, and the points and test places that they use. A list that is empty means all."""

    def __init__(self, sheet, identity=None):
        self.sheet = sheet
        alternatives = {way["id"]: way for way in sheet.get("alternatives", [])}
        self.steps = alternatives[identity]["steps"] if identity else sheet["steps"]
        opened = {step["point"] for step in self.steps if step["kind"] == "open"}
        tested = {step["testplace"] for step in self.steps if step["kind"] == "test"}
        self.points = {point["id"]: point for point in sheet["points"] if point["id"] in opened}
        self.places = {place["id"]: place for place in sheet["testplaces"] if place["id"] in tested}
        self.waits = {wait["id"]: wait for wait in sheet["waits"]}
        self.circuits = [circuit["id"] for circuit in sheet["circuits"]]

    def step(self, kind, member, value):
        """The step of a kind for a point, a test place or an id; None when the way has none."""
        return next((step for step in self.steps if step["kind"] == kind and step.get(member) == value), None)

    def feeders(self, circuit):
        """The points of this way that feed a circuit."""
        return [name for name, point in self.points.items() if not point["circuits"] or circuit in point["circuits"]]

    def covered(self, place):
        """The circuits that a test place covers."""
        return set(self.places[place]["circuits"] or self.circuits)

    def waits_of(self, place):
        """The waits that a dead test at a place depends on."""
        return [name for name, wait in self.waits.items() if wait["circuit"] in self.covered(place)]

    def points_of(self, place):
        """The points whose opening a dead test proves: those that it names and all that feed what it covers."""
        named = self.places[place]["points"] or list(self.points)
        return [name for name in self.points if name in named or any(name in self.feeders(circuit) for circuit in self.covered(place))]

    def touched_by(self, what, points=(), circuits=()):
        """The circuits and points that a disturbance undoes: by the sheet's rule, else all; and whatever the entry itself names."""
        rule = next((rule for rule in self.sheet.get("disturbances", []) if rule["what"] == what), {})
        hit = set(rule.get("circuits") or self.circuits) | set(circuits)
        undone = set(rule.get("points") or (point for circuit in hit for point in self.feeders(circuit))) | set(points)
        return hit | {circuit for circuit in self.circuits if undone & set(self.feeders(circuit))}, undone


# ------------------------------------------------------------------------------------------------------------------------------ time
class Clock:
    """Counted time (I2): it runs with CLOCK_BOOTTIME from entry to entry and stands still over every gap. The wall clock of the
    entries is never read."""

    def __init__(self, entry):
        self.boot = entry.boot
        self.uptime = entry.uptime
        self.counted = 0
        self.asleep = self.asleep_at(entry)

    @staticmethod
    def asleep_at(entry):
        """How long the tablet has slept since it was started, by an entry that tells both clocks; None by another."""
        return entry.uptime - int(entry.data["awake"]) if "awake" in entry.data else None

    @staticmethod
    def is_gap(entry):
        """The process was down, the tablet slept, or entries were lost."""
        return entry.type == "segment.started" or (entry.type == "clock.anchored" and entry.data["why"] in ("start", "resume"))

    def advance(self, entry, wait_runs):
        """Moves on to an entry; yields what is wrong with how time is told."""
        since = entry.uptime - self.uptime
        if self.is_gap(entry):
            self.asleep = self.asleep_at(entry)
        elif entry.boot != self.boot:
            yield "another running period begins without an anchor that says so"
        elif since < 0:
            yield f"the boot-time clock runs back by {seconds(-since)}"
        elif wait_runs and since > LONGEST_SILENCE:
            yield f"a wait runs, and {seconds(since)} without an entry are not marked as a gap"
        else:
            self.counted += since
            asleep = self.asleep_at(entry)
            if asleep is not None and self.asleep is not None and asleep - self.asleep > SLEEP_NOISE:
                yield f"the tablet slept for {seconds(asleep - self.asleep)}, which is not marked as a gap"
                self.asleep = asleep
        self.boot, self.uptime = entry.boot, entry.uptime


def seconds(nanoseconds):
    """A span in words."""
    return f"{nanoseconds / SECOND:.1f} s"


class Wait:
    """A wait that was started and has not been lost."""

    def __init__(self, entry, counted):
        self.sequence = entry.sequence
        self.counted = counted
        self.over = False


# ------------------------------------------------------------------------------------------------------------------------- dead test
class DeadTest:
    """A dead test in progress (I3): one place, one tester, proved before, every pair, proved again."""

    def __init__(self, entry):
        self.place = entry.data["testplace"]
        self.tester = entry.data["tester"]
        self.boot = entry.boot
        self.began = entry.uptime
        self.before = set()
        self.readings = {}
        self.after = set()
        self.contact = False

    def missing(self, place):
        """What the test lacks to be whole, in words; None when nothing."""
        kinds = {pair["kind"] for pair in place["pairs"]}
        untested = [pair["id"] for pair in place["pairs"] if pair["id"] not in self.readings]
        if kinds - self.before:
            return f"the tester was not proved before on {', '.join(sorted(kinds - self.before))}"
        if untested:
            return f"these pairs were not tested: {', '.join(untested)}"
        if kinds - self.after:
            return f"the tester was not proved again afterwards on {', '.join(sorted(kinds - self.after))}"
        return None

    def misfit(self, place, floor):
        """Why whole readings cannot be believed: nothing at all was shown, or rails and chassis do not add up. None when they can."""
        shown = [self.readings[pair["id"]] for pair in place["pairs"]]
        if all(reading.most == 0 for reading in shown) and not self.contact:
            return "every reading is zero and nobody confirmed bare metal under the probes"
        roles = {pair["role"]: self.readings[pair["id"]] for pair in place["pairs"]}
        rails, positive, negative = (roles.get(role) for role in ("railtorail", "positivetochassis", "negativetochassis"))
        if rails and positive and negative and not rails.fits(positive, negative, floor):
            return "the rail-to-rail reading is neither the sum nor the difference of the two readings to chassis"
        return None

    def is_late(self, entry, place):
        """True when the sheet's window, counted from the first proving in full, gaps and all, has passed."""
        return entry.boot != self.boot or entry.uptime - self.began > place["windowseconds"] * SECOND


class Reading:
    """What the tester showed, without its sign because leads may be reversed; "below N" lies somewhere from nothing to N."""

    def __init__(self, entry):
        self.sequence = entry.sequence
        self.most = abs(Decimal(entry.data["volts"] if "volts" in entry.data else entry.data["below"]))
        self.least = self.most if "volts" in entry.data else Decimal(0)

    def fits(self, positive, negative, floor):
        """Kirchhoff: rail to rail is the sum of both to chassis, or their difference, give or take the floor."""
        apart = max(Decimal(0), positive.least - negative.most, negative.least - positive.most)
        furthest = max(positive.most - negative.least, negative.most - positive.least)
        return (self.is_near(positive.least + negative.least, positive.most + negative.most, floor)
                or self.is_near(apart, furthest, floor))

    def is_near(self, least, most, floor):
        """True when some voltage that was shown is within the floor of some voltage of a range."""
        return self.least - most <= floor and least - self.most <= floor


# --------------------------------------------------------------------------------------------------------------------------- the job
class Arrival:
    """The minutes before a sheet is chosen: every item settled and read back, and after a stand-off nothing of the isolation."""

    FORBIDDEN = ("sheet.pinned", "point.opened", "point.locked", "wait.started", "tester.proved", "dead.proved", "work.cleared", "way.taken")
    LEAST_CENTIMETRES = 1524  # 50 ft (NHTSA interim guidance, SAE J2990)

    def __init__(self, faults):
        self.faults = faults
        self.items, self.answers, self.read_back, self.forbidden = None, {}, False, None

    def take(self, entry):
        """Looks at what concerns the arrival."""
        if entry.type == "job.opened" and "arrival" in entry.data:
            self.items = {item["id"]: item for item in entry.data["arrival"]["items"]}
        elif entry.type == "scene.answered":
            self.answer(entry)
        elif entry.type == "step.confirmed" and entry.data["question"] == "scenereadback":
            missing = [name for name in self.items or {} if not self.settled(name)]
            if missing:
                self.faults.add(entry.line, "arrival", f"read back before '{missing[0]}' was settled")
            self.read_back = True
        elif entry.type == "standoff.begun":
            if entry.data["centimetres"] < self.LEAST_CENTIMETRES:
                self.faults.add(entry.line, "arrival", "the stand-off is under 50 feet")
            self.forbidden = "a stand-off"
        elif entry.type == "sheet.pinned" and self.items is not None and not self.read_back:
            self.faults.add(entry.line, "arrival", "a sheet was chosen before the arrival was read back")
        if self.forbidden and entry.type in self.FORBIDDEN:
            self.faults.add(entry.line, "arrival", f"{entry.type} after {self.forbidden}")

    def answer(self, entry):
        """Notes an answer; some forbid everything that follows."""
        name, answer = entry.data["item"], entry.data["answer"]
        self.answers[name] = answer
        if answer == "yes" and self.items[name]["leads"] in ("standoff", "stop"):
            self.forbidden = f"yes to '{name}'"

    def settled(self, name):
        """True when an item has its answer, and its remedy if it needed one."""
        answer = self.answers.get(name)
        return answer is not None and not (answer == "yes" and self.items[name]["leads"] == "remedy")


class Job:
    """One job, entry by entry. `on_x_y` is what an entry of type "x.y" says; each claim is held against all that came before it."""

    def __init__(self, faults):
        self.faults = faults
        self.clock = self.way = self.test = self.clearance = self.doubt = None
        self.points, self.locks, self.waits, self.proofs, self.done = {}, {}, {}, {}, set()
        self.workers, self.putting_back = [], False
        self.questions, self.answered, self.ever_opened = {}, 0, False
        self.losses = {}
        self.arrival = Arrival(faults)

    def take(self, entry):
        """Moves the clock on, then looks at what the entry says."""
        self.clock = self.clock or Clock(entry)
        self.check_clearance_still_stands(entry)
        gap = Clock.is_gap(entry) or entry.boot != self.clock.boot
        for trouble in self.clock.advance(entry, any(not wait.over for wait in self.waits.values())):
            self.wrong(entry, "I2", trouble)
        if gap:
            self.gap(entry)
        self.arrival.take(entry)
        handler = getattr(self, "on_" + entry.type.replace(".", "_"), None)
        if handler and (self.way or entry.type in ("job.opened", "sheet.pinned", "question.asked", "code.accepted", "person.changed", "phase.entered")):
            handler(entry)
        elif handler and entry.type not in ("step.confirmed", "disturbance.reported", "work.stopped"):
            self.wrong(entry, "I6", f"{entry.type} before a sheet was pinned")

    def wrong(self, entry, rule, sentence):
        """Notes a fault of this entry."""
        self.faults.add(entry.line, rule, sentence)

    def gap(self, entry):
        """Nobody watched: once a point was opened, nothing counts until it is confirmed by code that nothing was touched."""
        if self.ever_opened:
            self.doubt = entry.sequence
        if self.clearance:
            self.clearance = (entry.boot, entry.uptime)
        if entry.data.get("why") != "resume":
            # What the process would have written down when its store failed (I16) was never written.
            self.lose(entry, self.way.circuits if self.way else [], "the process had ended", waits=False)

    def check_clearance_still_stands(self, entry):
        """Clear to work must have lapsed by the first moment after its end."""
        if self.clearance and (entry.boot, entry.uptime) != (self.clock.boot, self.clock.uptime):
            boot, due = self.clearance
            if boot != self.clock.boot or due <= self.clock.uptime:
                self.wrong(entry, "I15", "clear to work still stands after a gap or after the sheet's time for the next test")
                self.clearance = None

    def in_doubt(self, entry, what):
        """Faults what is claimed after a gap before "nothing touched" was confirmed."""
        if self.doubt:
            self.wrong(entry, "I2", f"{what} although nobody confirmed by code, after the gap at entry {self.doubt}, that nothing was touched")

    def on_job_opened(self, entry):
        """The technician is the first who works."""
        self.workers = [entry.data["technician"]]

    def on_person_changed(self, entry):
        """Who works has locks of their own; another technician starts from nothing proved."""
        person, change = entry.data["person"], entry.data["change"]
        if change == "joined":
            self.workers.append(person)
            self.clearance = None
        elif change == "left" and person in self.workers:
            self.workers.remove(person)
        elif change == "tookover":
            self.workers = [person] + [each for each in self.workers[1:] if each != person]
            self.lose(entry, self.way.circuits if self.way else [], "another technician took over", waits=False)
            self.clearance = None

    def on_phase_entered(self, entry):
        """A break, and the way back, end what was proved."""
        self.putting_back = self.putting_back or entry.data["which"] == "puttingback"
        if self.way:
            self.lose(entry, self.way.circuits, f"phase {entry.data['which']} began", waits=self.putting_back)
        self.clearance = None
        if entry.data["which"] == "break" and self.ever_opened:
            self.doubt = entry.sequence

    def locked(self, point):
        """True when everybody who works has a lock on the point since it was opened."""
        return point in self.points and all(self.locks.get((point, each), ("", 0))[1] > self.points[point] for each in self.workers)

    def on_question_asked(self, entry):
        """A question's number is its entry's sequence."""
        self.questions[entry.sequence] = entry.data["question"]

    def on_code_accepted(self, entry):
        """The question that was last answered by code or hold."""
        self.answered = entry.data["question"]

    def satisfied(self, step):
        """True when a step needs nothing more."""
        kind = step["kind"]
        if kind in ("open", "lock"):
            return step["point"] in self.points if kind == "open" else self.locked(step["point"])
        if kind == "wait":
            return step["wait"] in self.waits and self.waits[step["wait"]].over
        return step["testplace"] in self.proofs if kind == "test" else step["id"] in self.done

    def in_turn(self, entry, kind, member, value):
        """Faults a step that the way does not have, or that comes before an earlier one is done."""
        step = self.way.step(kind, member, value)
        if step is None:
            return self.wrong(entry, "I6", f"the way that is followed has no step to {kind} '{value}'")
        earlier = self.way.steps[:self.way.steps.index(step)]
        skipped = [each["id"] for each in earlier if not self.satisfied(each)]
        if skipped:
            self.wrong(entry, "I6", f"step '{step['id']}' ({kind}) before step '{skipped[0]}' is done")

    def on_sheet_pinned(self, entry):
        """A sheet, or a changed one, starts everything anew (I21)."""
        self.way = Way(entry.data["sheet"])
        self.points, self.locks, self.waits, self.proofs, self.done = {}, {}, {}, {}, set()
        self.test = self.clearance = None

    def on_way_taken(self, entry):
        """Another way has waits and tests of its own; what is open stays open."""
        identity, instead = entry.data["way"], entry.data["instead"]
        offered = [way["id"] for way in self.way.sheet.get("alternatives", []) if instead in way["for"]]
        if identity not in offered:
            return self.wrong(entry, "I6", f"the sheet offers no way '{identity}' for step '{instead}'")
        self.lose(entry, self.way.circuits, "another way was taken")
        self.way = Way(self.way.sheet, identity)

    def on_step_confirmed(self, entry):
        """A plain step is done, or a gap is accounted for."""
        question = entry.data["question"]
        if question == "nothingtouched":
            if not (self.doubt and self.answered > self.doubt and self.questions.get(self.answered) == question):
                self.wrong(entry, "I2", "nothing touched is confirmed without a code, or without a question after the gap")
            self.doubt = None
        elif question in ("act", "coverliveside"):
            self.in_turn(entry, "act" if question == "act" else "cover", "id", entry.data["step"])
            self.done.add(entry.data["step"])

    def on_point_opened(self, entry):
        """A point is open, and not yet locked."""
        point = entry.data["point"]
        self.in_turn(entry, "open", "point", point)
        self.points[point] = entry.sequence
        self.ever_opened = True

    def on_point_locked(self, entry):
        """Lock and tag are fitted to an open point by somebody who works; a lock has one place and one holder."""
        place, lock = (entry.data["point"], entry.data["holder"]), entry.data["lock"]
        self.in_turn(entry, "lock", "point", place[0])
        if place[1] not in self.workers:
            self.wrong(entry, "locks", f"a lock of {place[1]}, who does not work here")
        if any(fitted[0] == lock for where, fitted in self.locks.items() if where != place):
            self.wrong(entry, "locks", f"lock {lock} is fitted in another place or by another person")
        self.locks[place] = (lock, entry.sequence)

    def on_point_unlocked(self, entry):
        """A lock is removed by who fitted it, or by the employer's procedure, and never one on which somebody relies."""
        point, holder = entry.data["point"], entry.data["holder"]
        if self.locks.pop((point, holder), ("", 0))[0] != entry.data["lock"]:
            self.wrong(entry, "locks", f"lock {entry.data['lock']} of {holder} is not fitted there")
        if (entry.data["remover"] == holder) == entry.data["procedure"]:
            self.wrong(entry, "locks", f"{entry.data['remover']} removed the lock of {holder}")
        if holder in self.workers and not self.putting_back:
            self.wrong(entry, "locks", f"{holder} works under the lock that was removed")

    def on_point_closed(self, entry):
        """A point that is closed feeds its circuits again. It is closed without a lock, in the reverse of the sheet's order."""
        point = entry.data["point"]
        order = [step["point"] for step in self.way.steps if step["kind"] == "open"]
        later = [each for each in order[order.index(point) + 1:] if each in self.points] if point in order else []
        if not self.putting_back or later:
            self.wrong(entry, "I6", f"{point} is closed before the work is done" if not later else f"{point} is closed before {later[-1]}")
        if any(where == point for where, _ in self.locks):
            self.wrong(entry, "locks", f"{point} is closed under a lock")
        self.undo(entry, [each for each in self.way.circuits if point in self.way.feeders(each)], [point], f"{point} was closed")

    def on_wait_started(self, entry):
        """It starts only when the last point that feeds its circuit is open, and is as long as the sheet says."""
        name = entry.data["wait"]
        rule = self.way.waits[name]
        closed = [point for point in self.way.feeders(rule["circuit"]) if point not in self.points]
        if closed:
            self.wrong(entry, "I1", f"the wait {name} starts before {', '.join(closed)}, which feeds its circuit, is open")
        if entry.data["seconds"] < rule["seconds"]:
            self.wrong(entry, "I1", f"the wait {name} is {entry.data['seconds']} s long; the sheet asks for {rule['seconds']} s")
        self.in_doubt(entry, f"the wait {name} starts")
        self.waits[name] = Wait(entry, self.clock.counted)

    def on_wait_completed(self, entry):
        """It is over when the sheet's time has been counted."""
        name = entry.data["wait"]
        self.in_doubt(entry, f"the wait {name} is over")
        if name not in self.waits:
            return self.wrong(entry, "I1", f"the wait {name} is over but does not run{self.loss(name)}")
        elapsed, needed = self.clock.counted - self.waits[name].counted, self.way.waits[name]["seconds"] * SECOND
        if elapsed < needed:
            self.wrong(entry, "I2", f"the wait {name} is over after {seconds(elapsed)} of counted time; the sheet asks for {seconds(needed)}")
        self.waits[name].over = True

    def on_wait_voided(self, entry):
        """It must start again."""
        self.waits.pop(entry.data["wait"], None)

    def waits_missing(self, place):
        """Why the waits of a place do not allow a dead test there; None when they do."""
        for name in self.way.waits_of(place):
            wait = self.waits.get(name)
            if wait is None:
                return f"the wait {name} does not run{self.loss(name)}"
            if not wait.over:
                return f"the wait {name} is not over"
            if any(self.points.get(point, 0) > wait.sequence for point in self.way.feeders(self.way.waits[name]["circuit"])):
                return f"the wait {name} started before the last opening that feeds its circuit"
        return None

    def on_tester_proved(self, entry):
        """The tester on a known source, before the readings or after them."""
        place, tester, kind, before = entry.data["testplace"], entry.data["tester"], entry.data["kind"], entry.data["phase"] == "before"
        if not entry.data.get("ok", True):
            self.test = self.test if before else None
        elif before:
            self.begin_test(entry, place, tester)
            self.test.before.add(kind)
        elif not self.test or self.test.place != place:
            self.wrong(entry, "I3", f"the tester is proved again at {place}, where no dead test is in progress")
        elif self.test.tester != tester:
            self.wrong(entry, "I3", f"{tester} is proved again; the dead test at {place} began with {self.test.tester}")
        else:
            self.test.after.add(kind)

    def begin_test(self, entry, place, tester):
        """The first proving begins the test: the waits must be over, and it must be its turn."""
        if self.test and (self.test.place, self.test.tester) == (place, tester) and not self.test.readings:
            return
        self.in_doubt(entry, f"a dead test begins at {place}")
        self.test = DeadTest(entry)
        missing = self.waits_missing(place)
        if missing:
            self.wrong(entry, "I3", f"the dead test at {place} begins too early: {missing}")
        else:
            self.in_turn(entry, "test", "testplace", place)

    def on_reading_taken(self, entry):
        """A reading counts after the tester was proved on its kind, with that tester. One above the limit ends everything that it tests."""
        if entry.data["purpose"] != "deadtest":
            return
        name, tester, kind = entry.data["testplace"], entry.data["tester"], entry.data["kind"]
        place = self.way.places[name]
        pair = next(pair for pair in place["pairs"] if pair["id"] == entry.data["pair"])
        reading = Reading(entry)
        if reading.most > Decimal(place["limit" + kind]):
            return self.lose(entry, self.way.covered(name), f"{pair['id']} showed {reading.most} V, above the limit")
        if not self.test or self.test.place != name or kind not in self.test.before:
            return self.wrong(entry, "I3", f"a reading at {name} before the tester was proved there on {kind} does not count")
        if tester != self.test.tester:
            self.wrong(entry, "I3", f"a reading with {tester}; {self.test.tester} was proved for this dead test")
        if kind != pair["kind"]:
            self.wrong(entry, "I3", f"{pair['id']} is tested in {pair['kind']}, not in {kind}")
        self.test.readings[pair["id"]] = reading
        self.test.after.clear()

    def on_contact_confirmed(self, entry):
        """Bare metal was under the probes although nothing was shown."""
        if self.test and self.test.place == entry.data["testplace"]:
            self.test.contact = True

    def on_dead_proved(self, entry):
        """The claim: everything before it is looked at again."""
        name = entry.data["testplace"]
        self.in_doubt(entry, f"{name} is proved dead")
        closed = [point for point in self.way.points_of(name) if point not in self.points]
        missing = f"{', '.join(closed)} is not open" if closed else self.waits_missing(name)
        if missing or not set(self.way.waits_of(name)) <= set(entry.data["waits"]):
            self.wrong(entry, "I1", f"{name} is proved dead, but {missing or 'the claim does not name its waits'}")
        else:
            self.in_turn(entry, "test", "testplace", name)
        fault = self.untested(entry, name, self.way.places[name])
        if fault:
            self.wrong(entry, "I3", f"{name} is proved dead, but {fault}")
        self.proofs[name] = entry.sequence
        self.test = None

    def untested(self, entry, name, place):
        """Why the dead test does not carry the claim; None when it does."""
        if not self.test or self.test.place != name:
            return f"no dead test was in progress there{self.loss(name)}"
        counted = sorted(self.test.readings[pair["id"]].sequence for pair in place["pairs"] if pair["id"] in self.test.readings)
        fault = self.test.missing(place) or self.test.misfit(place, Decimal(self.way.sheet["floorvolts"]))
        if fault is None and self.test.is_late(entry, place):
            return f"more than {place['windowseconds']} s after the tester was first proved"
        return fault or (None if sorted(entry.data["readings"]) == counted else "it names other readings than those of its test")

    def on_proof_voided(self, entry):
        """A proof, or the test in progress, is void."""
        self.proofs.pop(entry.data["testplace"], None)
        if self.test and self.test.place == entry.data["testplace"]:
            self.test = None

    def on_disturbance_reported(self, entry):
        """It undoes what the sheet says that it undoes. "Unwatched" answers a gap: nothing is relied on any more."""
        circuits, points = self.way.touched_by(entry.data["what"], entry.data.get("points", ()), entry.data.get("circuits", ()))
        self.undo(entry, circuits, points, f"{entry.data['what']} was reported")
        if entry.data["what"] == "unwatched":
            self.doubt = None

    def undo(self, entry, circuits, points, why):
        """Points are no longer open, so whatever covered a live side behind them is not known to be there either."""
        self.lose(entry, circuits, why)
        for point in points:
            self.points.pop(point, None)
        if points:
            self.done -= {step["id"] for step in self.way.steps if step["kind"] == "cover"}

    def lose(self, entry, circuits, why, waits=True):
        """Waits, dead tests, proofs and clear to work that rest on these circuits are gone, whether or not entries say so."""
        lost = [name for name, wait in self.waits.items() if waits and self.way.waits[name]["circuit"] in circuits]
        for name in lost:
            del self.waits[name]
        places = [name for name in (self.way.places if self.way else {}) if self.way.covered(name) & set(circuits)]
        for name in places:
            self.proofs.pop(name, None)
        if self.test and self.test.place in places:
            self.test = None
        if waits:
            self.clearance = None
        self.losses.update(dict.fromkeys(lost + places, f" (lost at entry {entry.sequence}: {why})"))

    def loss(self, name):
        """Why a wait or a proof was lost, if it was."""
        return self.losses.get(name, "")

    def on_work_cleared(self, entry):
        """Every point open and locked, every place proved, every other step done."""
        self.in_doubt(entry, "clear to work is given")
        closed = [name for name in self.way.points if name not in self.points]
        bare = [name for name, point in self.way.points.items() if point["lockable"] and not self.locked(name)]
        unproved = [name for name in self.way.places if name not in self.proofs]
        if closed or bare:
            self.wrong(entry, "I15", f"clear to work, but not open and locked: {', '.join(dict.fromkeys(closed + bare))}")
        if unproved:
            self.wrong(entry, "I15", f"clear to work, but not proved dead: {', '.join(name + self.loss(name) for name in unproved)}")
        if not (closed or bare or unproved):
            clear = next(step for step in self.way.steps if step["kind"] == "clear")
            self.in_turn(entry, "clear", "id", clear["id"])
        due = int(entry.data["retestdue"])
        if due - entry.uptime > self.way.sheet["retestminutes"] * 60 * SECOND:
            self.wrong(entry, "I15", "clear to work is given for longer than the sheet's time to the next test")
        self.clearance = (entry.boot, due)

    def on_work_lapsed(self, _):
        """Clear to work has ended."""
        self.clearance = None

    on_work_stopped = on_work_lapsed


# ---------------------------------------------------------------------------------------------------------------------- the program
class Report:
    """What one file holds and what is wrong with it."""

    def __init__(self, raw, proof=None):
        self.faults = Faults()
        self.entries = 0
        chains, heads, jobs = Chains(self.faults), Heads(self.faults), {}
        lines = raw.split(b"\n")
        if lines.pop() != b"":
            self.faults.add(len(lines) + 1, "form", "the last line has no end: the file was cut off")
        for number, line in enumerate(lines, 1):
            entry = read_entry(number, line, self.faults)
            if entry:
                self.entries += 1
                self.look(entry, chains.take)
                self.look(entry, heads.take)
                if entry.chain != Chains.TABLET:
                    self.look(entry, jobs.setdefault(entry.chain, Job(self.faults)).take)
        if self.entries == 0:
            raise Unreadable("there is no journal entry in it")
        heads.conclude(chains)
        self.jobs = len(jobs)
        self.has_tablet = heads.has_tablet or proof is not None
        if proof is not None:
            self.look_outside(proof, chains, heads, max(len(lines), 1))

    def look_outside(self, proof, chains, heads, last):
        """Holds the proof against the export."""
        try:
            for sentence in Proof(proof).faults(chains, heads):
                self.faults.add(last, "proof", sentence)
        except (KeyError, TypeError, ValueError, AttributeError, RecursionError, binascii.Error) as cause:
            self.faults.add(last, "proof", f"the proof cannot be read ({type(cause).__name__}: {cause})")

    def look(self, entry, take):
        """Data that is not what its type says is a fault of the entry, not of the checker."""
        try:
            take(entry)
        except (KeyError, TypeError, ValueError, AttributeError, StopIteration, InvalidOperation, binascii.Error) as cause:
            self.faults.add(entry.line, "form", f"the data of {entry.type} is not what it must be ({type(cause).__name__}: {cause})")


def check(paths, proof=None):
    """Checks files; prints what was found and returns the exit code."""
    sums, unreadable = [0, 0, 0], False
    for path in paths:
        prefix = f"{path}: " if len(paths) > 1 else ""
        try:
            report = Report(sys.stdin.buffer.read() if path == "-" else open(path, "rb").read(), open(proof, "rb").read() if proof else None)
        except (OSError, Unreadable) as cause:
            print(f"{path} cannot be checked: {cause}", file=sys.stderr)
            unreadable = True
            continue
        found = (report.entries, report.jobs, len(report.faults))
        sums = [total + count for total, count in zip(sums, found)]
        for line in report.faults.lines():
            print(prefix + line)
        if not report.has_tablet:
            print(f"{prefix}note: the tablet's chain is not here, so signatures and missing ends were not checked")
        if prefix:
            print(prefix + "{} entries, {} jobs, {} faults".format(*found))
    print("{} entries, {} jobs, {} faults".format(*sums))
    return 2 if unreadable else 1 if sums[2] else 0


def self_test():
    """The signatures of RFC 6979, appendix A.2.5 (P-256, SHA-256), hold, and none holds for another message, key or number."""
    key = (0x60FED4BA255A9D31C961EB74C6356D68C049B8923B61FA6CE669622E60F29FB6,
           0x7903FE1008B8BC99A41AE9E95628BC64F2F1B20C2D7E9F5177A3C294D4462299)
    signatures = {
        b"sample": "EFD48B2AACB6A8FD1140DD9CD45E81D69D2C877B56AAF991C34D0EA84EAF3716F7CB1C942D657C41D436C7A1B6E29F65F3E900DBB9AFF4064DC4AB2F843ACDA8",
        b"test": "F1ABB023518351CD71D881567B1EA663ED3EFCF6C5132B354F28D3B0B7D38367019F4113742A2B14BD25926B49C649155F267E60D3814B4C0CC84250E46F0083"}
    signatures = {message: bytes.fromhex(signature) for message, signature in signatures.items()}
    held = all(Curve.verifies(key, message, signature) for message, signature in signatures.items())
    wrong = [(key, b"Sample", signatures[b"sample"]), (key, b"test", signatures[b"sample"]), (Curve.G[:2], b"test", signatures[b"test"]),
             ((key[0], key[1] + 1), b"test", signatures[b"test"]), (key, b"test", bytes(64)), (key, b"test", signatures[b"test"][:63])]
    passed = held and not any(Curve.verifies(*each) for each in wrong)
    print("self-test passed" if passed else "self-test failed")
    return 0 if passed else 1


def main(arguments):
    """Reads the command line."""
    if arguments == ["--self-test"]:
        return self_test()
    if len(arguments) == 3 and arguments[1] == "--proof":
        return check(arguments[:1], arguments[2])
    if not arguments or any(each.startswith("--") for each in arguments):
        print(__doc__.split("\n\n")[1], file=sys.stderr)
        return 2
    return check(arguments)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
