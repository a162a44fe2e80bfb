using Microsoft.ML.OnnxRuntime;

namespace Companion.Voice.Ear;

/// <summary>
/// The Companion's own network (assets/ear/ear.onnx), run on one core by ONNX Runtime: "features" [1,T,64] to "logprobs" [1,T2,40].
/// </summary>
public sealed class OnnxAcousticModel : IAcousticModel, IDisposable
{
    private const string ModelFile = "ear.onnx";
    private const string PhonesFile = "phones.txt";
    private const int TrialFrames = 100;

    private readonly InferenceSession session;

    private OnnxAcousticModel(InferenceSession session, Phones phones)
    {
        this.session = session;
        Phones = phones;
    }

    /// <inheritdoc/>
    public Phones Phones { get; }

    /// <summary>Loads the network of a folder; null with the reason when it is not there or cannot be used: the voice is then off.</summary>
    public static OnnxAcousticModel? TryLoad(string folder, out string? reason)
    {
        try
        {
            using var options = OneCore();
            var session = new InferenceSession(Path.Combine(folder, ModelFile), options);
            var model = new OnnxAcousticModel(session, Phones.Load(Path.Combine(folder, PhonesFile)));

            // A file that is some other network fails here and not at the first answer; the first run is also the slow one.
            _ = model.Score(new Features(TrialFrames, new float[TrialFrames * FeatureExtractor.Bands]));
            reason = null;
            return model;
        }
        catch (Exception fault) when (fault is OnnxRuntimeException or IOException or InvalidDataException or UnauthorizedAccessException)
        {
            reason = $"The ear's model in {folder} cannot be used ({fault.Message}). Voice is off: answer by button or screen.";
            return null;
        }
    }

    /// <inheritdoc/>
    public Posteriors Score(Features features)
    {
        ArgumentNullException.ThrowIfNull(features);
        using var input = OrtValue.CreateTensorValueFromMemory(features.Values, [1, features.Frames, FeatureExtractor.Bands]);
        using var run = new RunOptions();
        using var outputs = session.Run(run, ["features"], [input], ["logprobs"]);
        return new Posteriors(outputs[0].GetTensorDataAsSpan<float>().ToArray());
    }

    /// <inheritdoc/>
    public void Dispose() => session.Dispose();

    internal static SessionOptions OneCore() => new()
    {
        IntraOpNumThreads = 1,
        InterOpNumThreads = 1,
        GraphOptimizationLevel = GraphOptimizationLevel.ORT_ENABLE_ALL,
        LogSeverityLevel = OrtLoggingLevel.ORT_LOGGING_LEVEL_ERROR,
    };
}
