using Companion.Domain.Asking;

namespace Companion.Screens.Answering;

/// <summary>One of the three big buttons.</summary>
/// <param name="Phrase">What pressing it means; null when it means nothing now.</param>
/// <param name="Label">Its words.</param>
/// <param name="Hint">How to press it, or what is missing first.</param>
/// <param name="Hold">True when it must be held and let go.</param>
/// <param name="Enabled">False when it means nothing now.</param>
public sealed record ScreenButton(Phrase? Phrase, string Label, string Hint, bool Hold, bool Enabled)
{
    /// <summary>How a button is held.</summary>
    public const string HoldHint = "Hold until full, then let go";

    /// <summary>How a button is tapped.</summary>
    public const string TapHint = "Tap";

    /// <summary>A button that means nothing now.</summary>
    public static ScreenButton Nothing(string label, string hint) => new(null, label, hint, false, false);

    /// <summary>A button that is tapped.</summary>
    public static ScreenButton Tap(Phrase phrase) => new(phrase, ButtonWords.Of(phrase), TapHint, false, true);

    /// <summary>A button that is held.</summary>
    public static ScreenButton Held(Phrase phrase) => new(phrase, ButtonWords.Of(phrase), HoldHint, true, true);
}
