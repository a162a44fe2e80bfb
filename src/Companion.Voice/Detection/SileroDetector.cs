using Companion.Voice.Audio;
using Companion.Voice.Ear;
using Microsoft.ML.OnnxRuntime;

namespace Companion.Voice.Detection;

/// <summary>
/// The Silero speech detector (assets/ear/silero_vad.onnx, MIT licence): 64 samples of context and 512 new ones, a state of [2,1,128],
/// about 1 % of a core. One thread.
/// </summary>
public sealed class SileroDetector : ISpeechProbability, IDisposable
{
    private const string ModelFile = "silero_vad.onnx";
    private const int ContextSamples = 64;
    private const int StateLength = 2 * 128;

    private readonly InferenceSession session;
    private readonly float[] input = new float[ContextSamples + AudioFormat.FrameSamples];
    private readonly float[] state = new float[StateLength];

    private SileroDetector(InferenceSession session) => this.session = session;

    /// <summary>Loads the detector of a folder; null with the reason when it is not there or cannot be used.</summary>
    public static SileroDetector? TryLoad(string folder, out string? reason)
    {
        try
        {
            using var options = OnnxAcousticModel.OneCore();
            var detector = new SileroDetector(new InferenceSession(Path.Combine(folder, ModelFile), options));
            _ = detector.Of(new float[AudioFormat.FrameSamples]);
            detector.Reset();
            reason = null;
            return detector;
        }
        catch (Exception fault) when (fault is OnnxRuntimeException or IOException or UnauthorizedAccessException)
        {
            reason = $"The speech detector in {folder} cannot be used ({fault.Message}). Voice is off: answer by button or screen.";
            return null;
        }
    }

    /// <inheritdoc/>
    public float Of(ReadOnlySpan<float> frame)
    {
        ArgumentOutOfRangeException.ThrowIfNotEqual(frame.Length, AudioFormat.FrameSamples);
        input.AsSpan(AudioFormat.FrameSamples).CopyTo(input);
        frame.CopyTo(input.AsSpan(ContextSamples));
        using var samples = OrtValue.CreateTensorValueFromMemory(input, [1, input.Length]);
        using var before = OrtValue.CreateTensorValueFromMemory(state, [2, 1, 128]);
        using var rate = OrtValue.CreateTensorValueFromMemory(new long[] { AudioFormat.SampleRate }, []);
        using var run = new RunOptions();
        using var outputs = session.Run(run, ["input", "state", "sr"], [samples, before, rate], ["output", "stateN"]);
        outputs[1].GetTensorDataAsSpan<float>().CopyTo(state);
        return outputs[0].GetTensorDataAsSpan<float>()[0];
    }

    /// <inheritdoc/>
    public void Reset()
    {
        Array.Clear(state);
        Array.Clear(input);
    }

    /// <inheritdoc/>
    public void Dispose() => session.Dispose();
}
