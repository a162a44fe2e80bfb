using Companion.Domain.CheckIn;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;

namespace Companion.Domain.Deciding;

/// <summary>The exposed phase starts only with the watch room's word of the last minute, or with somebody who expects a call (I23).</summary>
internal static class LinkRules
{
    /// <summary>The watch room answered: kept while it is still to be asked for.</summary>
    public static void Heard(Turn turn)
    {
        var now = turn.Job.Clock.FullAt(turn.Moment);
        if (turn.Job.Link is { Begun: false } link && (link.Heard is not { } last || now - last >= WatchroomLink.NoteEvery))
        {
            turn.Add(new LinkHeard());
        }
    }

    /// <summary>Somebody expects a call, because there is no signal here. It permits, so it must be held.</summary>
    public static Refusal? Arrange(Turn turn, Answer answer)
    {
        if (turn.Job.Link is null)
        {
            return new Refusal("This tablet has no watch room. Nothing is to be arranged.");
        }

        if (!answer.IsHold)
        {
            return new Refusal("Hold the key to record that somebody expects your call.");
        }

        turn.Add(new NoSignalArranged(answer.By));
        return null;
    }

    /// <summary>Why an exposing step must not begin; null when it may.</summary>
    public static Refusal? Missing(Turn turn, Step? step)
    {
        if (step is not { Exposes: true } || turn.Job.Link is not { Begun: false, Arranged: false } link)
        {
            return null;
        }

        return link.Heard is { } heard && turn.Job.Clock.FullAt(turn.Moment) - heard <= WatchroomLink.Fresh
            ? null
            : new Refusal("The watch room has not answered for a minute. Wait for the link. Or arrange that somebody expects your call, and record it under report.");
    }
}
