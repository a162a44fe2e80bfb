"""Trains the ear. Resumes from a checkpoint; the learning rate follows a cosine over --from .. --to of the whole training.

    python3 train.py OUT_FOLDER --packs ear_a ear_b synth --noise noise --dictionary cmudict-en-us.dict --excluded excluded.txt --seconds 500
"""
import argparse
import math
import os
import queue
import threading
import time

import numpy as np
import torch
from torch.nn import functional

import augment
import data
import model

SHORT = 1.6 * 16000


def plan(table, rng, audio_seconds, most, joined=0.35, empty=0.03):
    """One pass: batches of about equal length. Yields starts, lengths [B, 3], and the targets, flat, with their lengths."""
    usable = np.flatnonzero(~table["dev"])
    chance = table["weight"][usable] / table["weight"][usable].sum()
    first = rng.choice(usable, len(usable), p=chance)
    clips = np.full((len(first), 3), -1)
    clips[:, 0] = first
    short = first[table["length"][first] < SHORT]
    join = (table["length"][first] < SHORT) & (rng.random(len(first)) < joined)
    clips[join, 1] = rng.choice(short, join.sum())
    again = join & (rng.random(len(first)) < 0.4)
    clips[again, 2] = rng.choice(short, again.sum())
    length = (table["length"][clips] * (clips >= 0))
    order = np.argsort(length.sum(1) * rng.uniform(0.93, 1.07, len(first)))
    total, batches, begin = length.sum(1)[order] + 12000, [], 0
    while begin < len(order):
        end = begin + 1
        while end < len(order) and end - begin < most and (end - begin + 1) * total[begin:end + 1].max() < audio_seconds * 16000:
            end += 8
        batches.append(order[begin:end])
        begin = end
    rng.shuffle(batches)
    for rows in batches:
        chosen = clips[rows]
        there = chosen >= 0
        there[rng.random(len(rows)) < empty] = False
        form = rng.integers(0, data.FORMS, chosen.shape)
        counts = table["form_length"][chosen, form] * there
        flat = table["forms"][chosen, form][np.arange(table["forms"].shape[2]) < counts[:, :, None]]
        yield table["start"][chosen], table["length"][chosen] * there, flat, counts.sum(1)


def prepared(augmenter, batches):
    """Makes the next batches in a thread and on a CUDA stream of their own, while the network learns from the last."""
    stream = torch.cuda.Stream() if augmenter.device == "cuda" else None
    ready, stop = queue.Queue(3), threading.Event()

    def work():
        try:
            with torch.no_grad(), torch.cuda.stream(stream):
                for starts, lengths, flat, counts in batches:
                    item = augmenter.batch(starts, lengths), torch.from_numpy(flat.astype(np.int64)).to(augmenter.device), counts
                    if stream:
                        stream.synchronize()
                    ready.put(item)
                    if stop.is_set():
                        return
        except Exception as error:
            ready.put(error)

    thread = threading.Thread(target=work, daemon=True)
    thread.start()
    try:
        while True:
            item = ready.get()
            if isinstance(item, Exception):
                raise item
            if stream:
                for tensor in item[:2]:
                    tensor.record_stream(torch.cuda.current_stream())
            yield item
    finally:
        stop.set()
        while thread.is_alive():
            while not ready.empty():
                ready.get()
            thread.join(0.1)


def endless(table, rng, audio_seconds, most):
    while True:
        yield from plan(table, rng, audio_seconds, most)


def distance(a, b):
    row = list(range(len(b) + 1))
    for i, x in enumerate(a, 1):
        row, before = [i], row
        for j, y in enumerate(b, 1):
            row.append(min(before[j] + 1, row[-1] + 1, before[j - 1] + (x != y)))
    return row[-1]


def phone_errors(net, augmenter, table, chosen, snr):
    """Greedy phone error rate against the nearest of the drawn pronunciations."""
    errors = phones = 0
    chosen = chosen[np.argsort(table["length"][chosen])]
    for begin in range(0, len(chosen), 64):
        rows = chosen[begin:begin + 64]
        best = net(augmenter.plain(table["start"][rows][:, None], table["length"][rows][:, None], snr)).argmax(-1).cpu().numpy()
        for row, ids in zip(rows, best):
            heard = [int(x) for x, y in zip(ids, np.append(-1, ids[:-1])) if x != y and x != 0]
            forms = {tuple(f[:n]) for f, n in zip(table["forms"][row].tolist(), table["form_length"][row])}
            errors += min(distance(heard, form) for form in forms)
            phones += table["form_length"][row].mean()
    return 100 * errors / phones


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("out")
    parser.add_argument("--packs", nargs="+", required=True)
    parser.add_argument("--noise", required=True)
    parser.add_argument("--dictionary", required=True)
    parser.add_argument("--excluded")
    parser.add_argument("--resume")
    parser.add_argument("--seconds", type=float, default=500)
    parser.add_argument("--from", dest="begin", type=float, default=0.0)
    parser.add_argument("--to", dest="end", type=float, default=1.0)
    parser.add_argument("--peak", type=float, default=7e-4)
    parser.add_argument("--audio-seconds", type=float, default=400)
    parser.add_argument("--most", type=int, default=192)
    parser.add_argument("--seed", type=int, default=1)
    options = parser.parse_args()
    device = "cuda" if torch.cuda.is_available() else "cpu"
    torch.manual_seed(options.seed)
    torch.backends.cuda.matmul.allow_tf32 = torch.backends.cudnn.allow_tf32 = True
    rng = np.random.default_rng(options.seed)

    sounds, table = data.load(options.packs, data.load_exclusions(options.excluded), options.dictionary, options.seed)
    noise_rows = data.rows(options.noise + ".tsv")
    augmenter = augment.Augmenter(sounds, np.load(options.noise + ".npy"), [int(r["start"]) for r in noise_rows], [int(r["samples"]) for r in noise_rows], device, options.seed)
    net = model.Ear().to(device)
    averaged = model.Ear().to(device).eval()
    averaged.load_state_dict(net.state_dict())
    print("parameters: %d" % sum(p.numel() for p in net.parameters()))
    decay = [p for p in net.parameters() if p.dim() > 1]
    plain = [p for p in net.parameters() if p.dim() <= 1]
    optimiser = torch.optim.AdamW([{"params": decay, "weight_decay": 0.02}, {"params": plain, "weight_decay": 0.0}], lr=1e-3, betas=(0.9, 0.98),
                                  **({"fused": True} if device == "cuda" else {}))
    step = 0
    if options.resume:
        state = torch.load(options.resume, map_location=device)
        averaged.load_state_dict(state["averaged"])
        net.load_state_dict(torch.load(options.resume.replace(".pt", "-raw.pt"), map_location=device))
        step = state["step"]
    net.train()
    first_step = step
    weights, means = list(net.parameters()), list(averaged.parameters())
    dev = np.flatnonzero(table["dev"])
    dev = dev[rng.permutation(len(dev))[:400]]
    os.makedirs(options.out, exist_ok=True)

    def save():
        torch.save({"averaged": averaged.state_dict(), "step": step}, os.path.join(options.out, "ear.pt"))
        torch.save(net.state_dict(), os.path.join(options.out, "ear-raw.pt"))

    began, heard, shown, losses = time.time(), 0.0, time.time(), []
    for batch, flat, counts in prepared(augmenter, endless(table, rng, options.audio_seconds, options.most)):
        progress = options.begin + (options.end - options.begin) * (time.time() - began) / options.seconds
        if progress >= options.end:
            break
        augmenter.strength = min(1.0, 0.4 + 1.8 * progress)
        rate = options.peak * min(1, (step - first_step + 1) / 400) * (0.5 + 0.5 * math.cos(math.pi * progress)) + 1e-6
        for group in optimiser.param_groups:
            group["lr"] = rate
        with torch.autocast(device, dtype=torch.bfloat16, enabled=device == "cuda"):
            logs = net(batch)
        counts = torch.from_numpy(counts)
        loss = functional.ctc_loss(logs.transpose(0, 1), flat, torch.full((len(batch),), logs.shape[1]), counts, reduction="none", zero_infinity=True)
        loss = (loss / (counts.to(device) + 2)).mean()
        optimiser.zero_grad(set_to_none=True)
        loss.backward()
        torch.nn.utils.clip_grad_norm_(weights, 1.0)
        optimiser.step()
        with torch.no_grad():
            keep = min(0.999, (1 + step) / (20 + step))
            torch._foreach_mul_(means, keep)
            torch._foreach_add_(means, weights, alpha=1 - keep)
        step += 1
        heard += batch.shape[0] * batch.shape[1] / 100
        if step % 50 == 0:
            losses.append(loss.item())
        if time.time() - shown > options.seconds / 12 and losses:
            shown = time.time()
            with torch.no_grad():
                errors = [phone_errors(averaged, augmenter, table, dev, snr) for snr in (None, 5)]
            print("%5.0f s  %6.1f h  step %6d  rate %.2e  loss %.3f  dev phone error %.1f %% clean, %.1f %% at 5 dB" % (
                time.time() - began, heard / 3600, step, rate, sum(losses) / len(losses), *errors), flush=True)
            losses = []
            save()
    save()
    print("trained %.0f s, %d steps in all, %.0f h heard in this call" % (time.time() - began, step, heard / 3600))


if __name__ == "__main__":
    main()
