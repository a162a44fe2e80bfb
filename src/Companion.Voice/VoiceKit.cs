using Companion.Engine.Ports;
using Companion.Voice.Detection;
using Companion.Voice.Ear;
using Companion.Voice.Speaking;
using Companion.Voice.TurnTaking;

namespace Companion.Voice;

/// <summary>
/// The whole voice, put together: ear and speaker with one turn gate between them. A missing model turns the ear off and reports it; a
/// missing lexicon does too. Dispose stops all threads.
/// </summary>
public sealed class VoiceKit : IDisposable
{
    private readonly PromptQueue prompts;
    private readonly EarLoop? loop;
    private readonly IDisposable?[] owned;

    private VoiceKit(PromptQueue prompts, IEar ear, params IDisposable?[] owned)
    {
        this.prompts = prompts;
        this.owned = owned;
        loop = ear as EarLoop;
        Ear = ear;
    }

    /// <summary>Listens; hears nothing when there is no model.</summary>
    public IEar Ear { get; }

    /// <summary>Speaks.</summary>
    public ISpeaker Speaker => prompts;

    /// <summary>Puts the voice together and starts it.</summary>
    public static VoiceKit Start(VoiceOptions options, IClock clock, IInbox inbox)
    {
        ArgumentNullException.ThrowIfNull(options);
        var turn = new TurnGate(clock);
        var speech = new SpeechCache(options.Synthesiser ?? FallbackSynthesiser.Usual());
        var echo = options.Recorded ? null : new LoudspeakerEcho(inbox);
        var prompts = new PromptQueue(speech, options.Loudspeaker, turn, options.Pace, clock, inbox, echo);
        var folder = Path.Combine(options.AssetsFolder, "ear");
        var model = OnnxAcousticModel.TryLoad(folder, out var reason);
        var detector = model is null ? null : SileroDetector.TryLoad(folder, out reason);
        var lexicon = LoadLexicon(options.AssetsFolder, ref reason);
        if (model is null || detector is null || lexicon is null)
        {
            return new VoiceKit(prompts, new DeafEar(reason ?? "Voice is off.", inbox), options.Microphone, model, detector);
        }

        var recogniser = new Recogniser(model, lexicon, options.Strict);
        var loop = new EarLoop(options.Microphone, detector, recogniser, turn, clock, inbox, options.Recorded, echo, options.Tap);
        loop.Start();
        return new VoiceKit(prompts, loop, model, detector);
    }

    /// <summary>Waits until a microphone that is a file has ended and all of it was recognised; true at once without an ear.</summary>
    public bool WaitForEnd(TimeSpan patience) => loop?.WaitForEnd(patience) ?? true;

    /// <inheritdoc/>
    public void Dispose()
    {
        loop?.Dispose();
        prompts.Dispose();
        foreach (var part in owned)
        {
            part?.Dispose();
        }
    }

    private static Lexicon? LoadLexicon(string assets, ref string? reason)
    {
        try
        {
            return Lexicon.Load(Path.Combine(assets, "lexicon", "lexicon.txt"));
        }
        catch (Exception fault) when (fault is IOException or InvalidDataException or UnauthorizedAccessException)
        {
            reason ??= $"The lexicon cannot be used ({fault.Message}). Voice is off: answer by button or screen.";
            return null;
        }
    }
}
