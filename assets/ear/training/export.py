"""Turns a checkpoint into ear.onnx and phones.txt, compares it with PyTorch, and writes the check fixture.

    python3 export.py ear.pt OUT_FOLDER
"""
import inspect
import os
import sys

import numpy as np
import torch

import features
import model
import pronounce


def export(net, path):
    example = torch.randn(1, 301, features.BANDS)
    extra = {"dynamo": False} if "dynamo" in inspect.signature(torch.onnx.export).parameters else {}
    torch.onnx.export(net, example, path, input_names=["features"], output_names=["logprobs"], opset_version=17 if extra else 13,
                      dynamic_axes={"features": {1: "T"}, "logprobs": {1: "T2"}}, **extra)


def write_check(folder, run):
    signal = features.check_signal()
    mel = features.log_mel(signal)
    logs = run(mel[None])[0]
    os.makedirs(folder, exist_ok=True)
    with open(os.path.join(folder, "ear-check.tsv"), "w") as out:
        for line in ("Reference values for the check signal (16000 samples, 1 s); see training/features.py, training/export.py",
                     *features.CHECK_FORMULA.split("\n"), "sample n value; mel frame band value; best frame label-index; logprob frame label-index value"):
            out.write("# " + line + "\n")
        for n in (0, 1, 2, 100, 7999, 15999):
            out.write("sample\t%d\t%.9g\n" % (n, signal[n]))
        for frame in (0, 1, 17, 49, 97):
            for band in (0, 1, 7, 31, 50, 63):
                out.write("mel\t%d\t%d\t%.6f\n" % (frame, band, mel[frame, band]))
        for frame in range(len(logs)):
            out.write("best\t%d\t%d\n" % (frame, logs[frame].argmax()))
        for frame in (0, 10, 24, len(logs) - 1):
            for label in (0, 1, 9, 22, 39):
                out.write("logprob\t%d\t%d\t%.5f\n" % (frame, label, logs[frame, label]))


def main():
    checkpoint, folder = sys.argv[1:]
    os.makedirs(folder, exist_ok=True)
    net = model.Ear()
    net.load_state_dict(torch.load(checkpoint, map_location="cpu")["averaged"])
    net.eval()
    path = os.path.join(folder, "ear.onnx")
    export(net, path)
    with open(os.path.join(folder, "phones.txt"), "w") as out:
        out.write("\n".join(pronounce.LABELS) + "\n")
    import onnxruntime
    session = onnxruntime.InferenceSession(path, providers=["CPUExecutionProvider"])
    run = lambda x: session.run(None, {"features": x})[0]
    worst = 0.0
    for frames in (20, 98, 333, 1000):
        x = np.random.default_rng(frames).standard_normal((1, frames, features.BANDS)).astype(np.float32)
        with torch.no_grad():
            worst = max(worst, np.abs(run(x) - net(torch.from_numpy(x)).numpy()).max())
    print("largest difference between ONNX Runtime and PyTorch: %.2e; %.1f MB" % (worst, os.path.getsize(path) / 1e6))
    write_check(os.path.join(folder, "check"), run)


if __name__ == "__main__":
    main()
