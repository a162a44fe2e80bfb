using Companion.Domain.Deciding;
using Companion.Domain.Time;
using Companion.Screens.Answering;

namespace Companion.Screens.Gestures;

/// <summary>One finished touch of one target.</summary>
/// <param name="Target">What was touched.</param>
/// <param name="Shown">The question that was on the screen when the finger went down.</param>
/// <param name="Began">When the finger went down.</param>
/// <param name="Held">How long it stayed.</param>
public sealed record Press(string Target, QuestionKey Shown, Moment Began, Ticks Held)
{
    /// <summary>True when it stayed long enough to mean it.</summary>
    public bool IsDeliberate => Held >= Answer.DeliberateHold;
}
