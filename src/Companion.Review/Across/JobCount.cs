using System.Collections.Immutable;
using System.Globalization;
using Companion.Domain.Asking;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;
using Companion.Review.Remarking;

namespace Companion.Review.Across;

/// <summary>Counts one job. Pure and total.</summary>
public static class JobCount
{
    private const long NanosecondsAMillisecond = 1_000_000;

    /// <summary>What is counted of a record; null for one without an opening, which is no job.</summary>
    public static JobFacts? Of(RecordName name, RecordedJob job)
    {
        if (job.Entries.FirstOrDefault(entry => entry.Happened is JobOpened) is not { Happened: JobOpened opened } first)
        {
            return null;
        }

        var sheet = job.Entries.Select(entry => entry.Happened).OfType<SheetPinned>().LastOrDefault()?.Sheet;
        var (steps, voice) = Walk(job, sheet);
        return new JobFacts(
            name,
            job.Rehearsal,
            first.Entry.Time,
            (long)job.Entries[^1].Since.TotalSeconds,
            opened.Technician,
            sheet is null ? string.Empty : string.Create(CultureInfo.InvariantCulture, $"{sheet.Id}, edition {sheet.Edition}"))
        {
            Steps = steps,
            Voice = voice,
            Remarks = [.. Remarks.Of(job).CountBy(remark => remark.Kind).Select(kind => new RemarkCount(kind.Key, kind.Value)).OrderBy(count => count.Kind)],
        };
    }

    private static (ImmutableArray<StepTime> Steps, ImmutableArray<VoiceCount> Voice) Walk(RecordedJob job, Sheet? sheet)
    {
        var times = new Dictionary<string, long>();
        var counts = new Dictionary<string, VoiceCount>();
        var (open, since) = ("before the first question", 0L);
        foreach (var entry in job.Entries)
        {
            var counted = counts.GetValueOrDefault(open) ?? new VoiceCount(open, 0, 0, 0);
            switch (entry.Happened)
            {
                case QuestionAsked asked:
                    times[open] = times.GetValueOrDefault(open) + entry.At - since;
                    (open, since) = (NameOf(asked, sheet), entry.At);
                    break;
                case SpeechHeard { Accepted: false }:
                    counts[open] = counted with { Unheard = counted.Unheard + 1 };
                    break;
                case StepRefused or CodeFailed or DeadRefused:
                    counts[open] = counted with { Refused = counted.Refused + 1 };
                    break;
                case AnswerCorrected:
                    counts[open] = counted with { Corrected = counted.Corrected + 1 };
                    break;
            }
        }

        if (job.Entries is [.., var last])
        {
            times[open] = times.GetValueOrDefault(open) + last.At - since;
        }

        return (
            [.. times.Where(step => step.Value > 0).Select(step => new StepTime(step.Key, step.Value / NanosecondsAMillisecond)).OrderBy(step => step.Step, StringComparer.Ordinal)],
            [.. counts.Values.OrderBy(count => count.Step, StringComparer.Ordinal)]);
    }

    /// <summary>The question and what the sheet calls the step: an id means nothing to whoever reads, and another step in another sheet.</summary>
    private static string NameOf(QuestionAsked asked, Sheet? sheet)
    {
        var words = string.Concat(asked.Question.ToString().Select((letter, place) => place > 0 && char.IsUpper(letter) ? $" {char.ToLowerInvariant(letter)}" : $"{letter}"));
        return asked.Step.Length == 0 || asked.Question is NeedKind.AlarmHeard ? words : $"{words}: {CalledBy(sheet, asked)}";
    }

    /// <summary>A subject has up to three parts: step, point or test place; pair, or before and after; kind of voltage. Whose lock it is says nothing about the step.</summary>
    private static string CalledBy(Sheet? sheet, QuestionAsked asked)
    {
        var parts = asked.Step.Split(TestItems.Separator);
        var place = sheet?.TestPlaces.FirstOrDefault(each => each.Id.Value == parts[0]);
        return (place, parts) switch
        {
            (not null, [_, var pair]) => $"{place.Name}, {place.Pairs.FirstOrDefault(each => each.Id.Value == pair)?.Name ?? pair}",
            (not null, [_, var phase, var kind]) => $"{place.Name}, {phase} the readings, {kind.ToUpperInvariant()}",
            (not null, _) => place.Name,
            _ => (asked.Question is NeedKind.ClosePoint or NeedKind.RemoveLock ? NameOf(sheet, parts[0]) : SayOf(sheet, parts[0])) ?? parts[0],
        };
    }

    private static string? NameOf(Sheet? sheet, string point) => sheet?.Points.FirstOrDefault(each => each.Id.Value == point)?.Name;

    private static string? SayOf(Sheet? sheet, string step) => sheet?.Steps.Concat(sheet.Alternatives.SelectMany(way => way.Steps))
        .FirstOrDefault(each => each.Id.Value == step)?.Say;
}
