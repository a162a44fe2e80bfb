using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Asking;
using Companion.Domain.Sound;

namespace Companion.Domain.Evolving;

/// <summary>The part of the fold that concerns the job as a whole: sheet, way, kit, gaps, halts.</summary>
internal static class JobFold
{
    public static Job Apply(Job job, JobEvent happened) => happened switch
    {
        SheetPinned pinned => job with { Way = SheetWay.Of(pinned.Sheet, WayId.Main), SheetDigest = pinned.Digest },
        WayTaken taken => TakeWay(job, taken),
        StepUnable unable => job with { Inability = new Inability(unable.Step, unable.Reason) },
        KitChecked { Ok: true } check => job with { Checked = job.Checked.Add(check.Item), Failed = job.Failed.Remove(check.Item) },
        KitChecked check => job with { Checked = job.Checked.Remove(check.Item) },
        ClockAnchored { Why: AnchorReason.Start or AnchorReason.Resume } => job with { Doubt = job.Doubt || job.IsolationBegun },
        StepConfirmed confirmed => Confirm(job, confirmed),
        WorkStopped stopped => job with
        {
            Halt = job.Halt is { Final: true } ? job.Halt : new Halt(stopped.Reason, stopped.Final),
            Inability = null,
            Clearance = null,
        },
        SoundAnnounced announced => job with { Sound = new SoundPolicy(announced.Days, announced.OrderedBy.Text) },
        JobClosed => job with { Ended = true },
        JobHandedOver over => job with { Ended = true, LocksExchanged = over.Locks == LocksAtHandOver.Exchanged },
        _ => job,
    };

    private static Job TakeWay(Job job, WayTaken taken) => job with
    {
        Way = SheetWay.Of(job.Sheet!, taken.Way),
        Inability = null,
        Test = null,
        Clearance = null,
    };

    private static Job Confirm(Job job, StepConfirmed confirmed) => confirmed.Question switch
    {
        NeedKind.SoundCheck => job with { SoundChecked = true },
        NeedKind.NothingTouched => job with { Doubt = false },
        NeedKind.GoOn => job with { Halt = job.Halt is { Final: true } ? job.Halt : null },
        NeedKind.Act or NeedKind.CoverLiveSide => job with { Done = job.Done.Add(new StepId(confirmed.Step)) },
        _ => job,
    };
}
