using System.Collections.Immutable;
using Companion.Domain.Events;
using Companion.Domain.Isolation;

namespace Companion.Papers.Words;

/// <summary>Which vehicle, who was there, and how the job stands.</summary>
internal static class AttendanceSection
{
    public static PaperSection Of(RecordEnd end) => new("Vehicle and job", [.. Rows(end)]);

    private static IEnumerable<PaperRow> Rows(RecordEnd end)
    {
        if (end.Job?.Sheet is { } sheet)
        {
            yield return new PaperRow("Vehicle", PaperText.Sentence(sheet.Vehicle));
            yield return new PaperRow("Shutdown sheet", $"{sheet.Id}, edition {PaperText.Number(sheet.Edition)}, from {sheet.Source.Document}, {sheet.Source.Edition}. Highest voltage {PaperText.Number(sheet.HighestVolts)} V.");
        }
        else
        {
            yield return new PaperRow("Vehicle", "Not told: no shutdown sheet was chosen, or it is not in this record.");
        }

        foreach (var row in People(end))
        {
            yield return row;
        }

        yield return new PaperRow("Place", PaperText.Personal(end.Opening?.Place, "not recorded"));
        yield return new PaperRow("Job", Ending(end));
        if (end.Job?.Linked is { } other)
        {
            yield return new PaperRow("Same event", $"Another vehicle: job {other}.");
        }
    }

    private static IEnumerable<PaperRow> People(RecordEnd end)
    {
        if (end.Opening is not { } opened)
        {
            yield return new PaperRow("Technician", end.Job is { } job ? PaperText.Sentence(PaperText.Crew(job.Technician)) : "not in this record");
            yield break;
        }

        yield return new PaperRow("Technician", $"{PaperText.Sentence(PaperText.Crew(opened.Technician))}, name: {PaperText.Personal(opened.Name, "not recorded")}");
        if (end.Job is { } now && now.Technician != opened.Technician)
        {
            yield return new PaperRow("Taken over by", $"{PaperText.Sentence(PaperText.Crew(now.Technician))}, technician from then on");
        }

        yield return new PaperRow("Second person", opened.SecondPerson is null ? "none named when the job was opened" : PaperText.Personal(opened.SecondPerson, string.Empty));
        if (opened.Policy == ExposurePolicy.AloneAllowed)
        {
            yield return new PaperRow("Policy", "The operator allows steps that expose live parts without a second person.");
        }
    }

    private static string Ending(RecordEnd end) => end switch
    {
        { Ending: { Happened: JobHandedOver over } entry } => $"Handed over {end.Time(entry.Entry.Time)} (entry {PaperText.Number(entry.Sequence)}). {PaperText.Stopped(over.Reason)} {Locks(over.Locks)}",
        { Ending: { Happened: JobClosed closed } entry } => $"Closed {end.Time(entry.Entry.Time)} (entry {PaperText.Number(entry.Sequence)}). {PaperText.Stopped(closed.Reason)}",
        { Last: { } last } => $"{Paper.StillOpenWords}. This paper tells how it stood at entry {PaperText.Number(last.Sequence)}, {end.Time(last.Entry.Time)}; what came later is not on it.",
        _ => "No entry.",
    };

    private static string Locks(LocksAtHandOver locks) => locks switch
    {
        LocksAtHandOver.Left => "The locks stayed on; who fitted them answers for them.",
        LocksAtHandOver.Exchanged => "Whoever took over was said to have fitted locks of their own first; then the locks on this paper came off. The numbers of the new ones are not in the record.",
        _ => "No lock was left on it.",
    };
}
