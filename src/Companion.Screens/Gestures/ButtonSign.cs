using Companion.Domain.Time;
using Companion.Screens.Answering;

namespace Companion.Screens.Gestures;

/// <summary>What the one physical button was made to say.</summary>
/// <param name="Kind">Tap, hold or double.</param>
/// <param name="Shown">The question that was open when the button went down.</param>
/// <param name="Began">When it went down; the first time, for a double.</param>
/// <param name="Held">How long it was held.</param>
public sealed record ButtonSign(ButtonSignKind Kind, QuestionKey Shown, Moment Began, Ticks Held);

/// <summary>Ways to press the one physical button.</summary>
public enum ButtonSignKind
{
    /// <summary>Short, once: the usual answer.</summary>
    Tap,

    /// <summary>Deliberately long: the usual answer, or the echo, confirmed.</summary>
    Hold,

    /// <summary>Short, twice: wrong, or say again.</summary>
    Double,
}
