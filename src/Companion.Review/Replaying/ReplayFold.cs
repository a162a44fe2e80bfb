using System.Collections.Frozen;
using Companion.Domain.Events;
using Companion.Domain.Speaking;
using Companion.Engine;

namespace Companion.Review.Replaying;

/// <summary>
/// The replay's fold: the job by the same fold as the engine's (I13), and beside it what the engine kept outside the job and the entries tell of.
/// Pure and total.
/// </summary>
public static class ReplayFold
{
    /// <summary>What stands for words that were erased.</summary>
    public const string Erased = "(erased)";

    /// <summary>What stands for the words of a check-in: not even one that was misheard tells which wording was tried (I10).</summary>
    public const string CheckIn = "(check-in)";

    private static readonly FrozenSet<string> CheckInWords =
        PhraseBook.CheckIns.Select(form => form.Pattern).ToFrozenSet(StringComparer.OrdinalIgnoreCase);

    /// <summary>The state after one more entry.</summary>
    public static ReplayState Next(ReplayState state, RecordedEntry entry)
    {
        var unread = entry.IsNewer || entry.Happened is null && Companion.Engine.Codec.EventTypes.RecordOf(entry.Entry.Type) is not null;
        var next = state with
        {
            Count = state.Count + 1,
            Job = Rebuild.Next(state.Job, entry.Entry, entry.Happened),
            Unread = state.Unread + (unread ? 1 : 0),
        };
        return entry.Happened switch
        {
            DeviceLost lost => next with { Lost = next.Lost.SetItem(lost.Which, lost.Reason) },
            DeviceReturned returned => next with { Lost = next.Lost.Remove(returned.Which) },
            ClockAnchored { Why: AnchorReason.Start } => next with { Heard = null, Lost = ReplayState.Before.Lost },
            { } happened when HeardIn(happened) is { } heard => next with { Heard = heard },
            _ => next,
        };
    }

    private static HeardLine? HeardIn(JobEvent happened) => happened switch
    {
        SpeechHeard { Accepted: true } heard => new HeardLine(Words(heard.Text), "Taken.", true),
        SpeechHeard heard => new HeardLine(Words(heard.Text), heard.Reason, false),
        AnswerEchoed echoed => new HeardLine(
            echoed.Number is null ? PhraseBook.Words(echoed.Phrase) : $"{PhraseBook.Words(echoed.Phrase)}: {echoed.Number}", "To be confirmed.", true),
        StepRefused refused => new HeardLine(string.Empty, refused.Reason, false),
        DeadRefused refused => new HeardLine(PhraseBook.Words(Companion.Domain.Asking.Phrase.ProvedDead), refused.Reason, false),
        CodeFailed failed => new HeardLine(string.Empty, failed.Reason, false),
        StepConfirmed or CodeAccepted => new HeardLine(string.Empty, "Taken.", true),
        _ => null,
    };

    /// <summary>An answer by hand has no words at all; words that were erased have left their digest.</summary>
    private static string Words(Personal? heard) => heard switch
    {
        null => string.Empty,
        { Text: null } => Erased,
        { Text: var text } => CheckInWords.Contains(text.Trim()) ? CheckIn : text,
    };
}
