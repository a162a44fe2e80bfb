using System.Collections.Immutable;
using Companion.Domain.Asking;
using Companion.Domain.HandingOver;
using Companion.Domain.Isolation;
using Companion.Domain.Speaking;
using Companion.Engine;
using Companion.Engine.Ports;
using Companion.Screens.Answering;
using Companion.Screens.Starting;

namespace Companion.Screens.Showing;

/// <summary>Builds the job screen from a state.</summary>
public static class JobViews
{
    private static readonly ButtonRow NoButtons = new(
        ScreenButton.Nothing(string.Empty, string.Empty), ScreenButton.Nothing(string.Empty, string.Empty), ScreenButton.Nothing(string.Empty, string.Empty));

    /// <summary>A view without word from the engine: no verdict, no countdown, no answer (I18).</summary>
    public static JobView NotConnected(bool rehearsal) => new()
    {
        Kind = ViewKind.NotConnected,
        Rehearsal = rehearsal,
        Title = StaleGuard.Words,
        Buttons = NoButtons,
    };

    /// <summary>The view of a state.</summary>
    /// <param name="snapshot">The state.</param>
    /// <param name="entry">What has been typed.</param>
    /// <param name="sheets">The sheets on offer.</param>
    /// <param name="opening">The choices of the start: names of people, and whether this is a rehearsal store.</param>
    public static JobView Of(Snapshot snapshot, Entry entry, ISheetCatalogue sheets, JobOpening opening)
    {
        var view = snapshot.Job switch
        {
            null => new JobView { Kind = ViewKind.Start, Title = "No job is open", Buttons = NoButtons },
            { Ended: true } ended => Ended(ended),
            var job => OfJob(job, snapshot.Recording, entry, sheets) with { People = PeopleOf(job, opening) },
        };
        return view with
        {
            Rehearsal = opening.Rehearsal || view.Rehearsal,
            Heard = snapshot.LastHeard,
            Sound = SoundOf(snapshot, opening),
            Banners = Banners.Of(snapshot),
        };
    }

    /// <summary>Told before a job is opened, and for as long as it lasts.</summary>
    private static string SoundOf(Snapshot snapshot, JobOpening opening) => snapshot.Job switch
    {
        { Ended: false, Sound: null } => string.Empty,
        { Ended: false } when snapshot.Lost.ContainsKey(DeviceNotice.Sound) => "Sound is not recorded now.",
        { Ended: false, Sound: { } policy } job => SoundWording.OnScreen(policy, job.SoundChecked),
        _ => opening.Sound is { } ordered ? SoundWording.OnScreen(ordered, begun: false) : string.Empty,
    };

    private static JobView Ended(Job job) => new()
    {
        Kind = ViewKind.Ended,
        Rehearsal = job.Rehearsal,
        Title = TitleOf(job),
        Ask = $"The job has ended. {(job.PuttingBack ? string.Empty : "Leave the marking on the vehicle. ")}Hand-over tells the next person what is left.",
        HandOver = HandOverOf(job),
        Buttons = NoButtons,
    };

    private static JobView OfJob(Job job, bool recording, Entry entry, ISheetCatalogue sheets)
    {
        var question = job.Question;
        var view = new JobView
        {
            Kind = ViewKind.Job,
            Rehearsal = job.Rehearsal,
            Title = TitleOf(job),
            Place = PlaceOf(job),
            MayArrange = job.Link is { Arranged: false, Begun: false },
            IsWatchedOver = job.CheckIn is not null,
            Key = QuestionKey.Of(job),
            Steps = StepLine.Of(job),
            Note = job.Sheet is null ? string.Empty : Wording.NoClassB(job.Sheet),
            Buttons = ButtonRow.WarningsOnly,
        };
        if (!recording)
        {
            return view with { Ask = "Not recording. Stop work. Treat as live." };
        }

        var choosing = question is { Need.Kind: NeedKind.ChooseSheet, Echo: null };
        return view with
        {
            Ask = question is null ? string.Empty : question.Echo is null ? Wording.AskOnScreen(job, question) : Wording.Echo(job, question),
            Code = question is { CodeIsOnlySpoken: true } ? null : question?.Code,
            MayBeSaid = MayBeSaid.Of(question),
            Statements = StatementsOf(job),
            Discharge = DischargePlot.Of(job),
            HandOver = HandOverOf(job),
            Sheets = choosing ? SheetLine.Of(job, sheets) : [],
            Choices = ChoicesOf(question),
            Number = NumberNeed.Of(job),
            Entry = entry,
            Buttons = ButtonRow.Of(job, entry),
        };
    }

    private static HandOverSheet? HandOverOf(Job job) => job.Sheet is null && job.StandOff is null ? null : HandOverSheet.Of(job);

    private static string TitleOf(Job job) => job.Sheet?.Vehicle ?? "No sheet chosen yet";

    private static string PeopleOf(Job job, JobOpening opening)
    {
        var name = opening.Technicians.FirstOrDefault(person => person.Id == job.Technician)?.Name ?? job.Technician;
        var linked = job.Linked is null ? string.Empty : "; linked job";
        var others = job.Workers.Length > 1 ? $"{job.Workers.Length} work here" : job.HasSecondPerson ? "with a second person" : "alone";
        return $"{name}, {others}{linked}";
    }

    private static string PlaceOf(Job job)
    {
        if (job.StandOff is not null)
        {
            return "Stand-off: not isolated";
        }

        if (job.Scene is { Confirmed: false } scene && job.SoundChecked)
        {
            return $"Arrival {Math.Min(scene.List.Items.Count(scene.IsSettled) + 1, scene.List.Items.Length)} of {scene.List.Items.Length}";
        }

        if (job.Way is not { } way)
        {
            return "Before the vehicle";
        }

        if (job.Question?.Need.Kind == NeedKind.CheckKit)
        {
            return $"Equipment {job.Checked.Count + 1} of {job.Kit.Length}";
        }

        if (job.PuttingBack)
        {
            return $"Putting back, {job.Closed.Count} of {job.Opened.Count} closed";
        }

        var current = job.CurrentStep;
        return current is null ? "All steps are done" : $"Step {way.Steps.IndexOf(current) + 1} of {way.Steps.Length}";
    }

    private static ImmutableArray<Phrase> ChoicesOf(Question? question) => question switch
    {
        { Need.Kind: NeedKind.InabilityReason, Echo: null } => Expectations.Of(NeedKind.InabilityReason).Phrases,
        { Need.Kind: NeedKind.ProveTester, Echo: null } => [Phrase.NothingShown],
        { Need.Kind: NeedKind.TakeWay, Echo: null } => [Phrase.Wrong],
        _ => [],
    };

    private static ImmutableArray<string> StatementsOf(Job job)
    {
        if (job.Sheet is null || job.Doubt || job.Halt is { Final: true })
        {
            return [];
        }

        return job.Clearance is not null
            ? [Wording.ClearToWork(job)]
            : [.. job.Proofs.OrderBy(proof => proof.Value.At).Select(proof => Wording.ProvedDead(job, proof.Key))];
    }
}
