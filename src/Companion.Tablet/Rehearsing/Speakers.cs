using Companion.Sheets.Rehearsals;
using Companion.Voice.Speaking;

namespace Companion.Tablet.Rehearsing;

/// <summary>The synthetic technicians. Their voices were kept out of the ear's training data.</summary>
public static class Speakers
{
    /// <summary>The speaker that a script names.</summary>
    public static ISynthesiser Of(RehearsalScript script)
    {
        var (engine, voice) = script.Speaker.Split(':', 2) is [var first, var second] ? (first, second) : (script.Speaker, string.Empty);
        return engine == "flite" ? new FliteCommand(voice) : new EspeakSynthesiser(voice, script.Rate);
    }
}
