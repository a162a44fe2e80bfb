using Companion.Domain.Arrival;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Kit;
using Companion.Domain.Sheets;

namespace Companion.Domain.Asking;

/// <summary>What a job needs to be told next: warnings first, then doubts, then the preparation, then the sheet's order.</summary>
public static class Needs
{
    /// <summary>The one thing that is needed now.</summary>
    public static Need Of(Job job)
    {
        if (job.Ended)
        {
            return Need.Nothing;
        }

        return Warning(job) ?? Preparation(job) ?? Consequence(job) ?? (job.PuttingBack ? PuttingBack.Next(job) : Step(job));
    }

    private static Need? Warning(Job job)
    {
        if (job.Alarm is { } alarm)
        {
            // Its sequence makes every alarm a question of its own: an answer to the one before never counts for it (I17).
            return new Need(NeedKind.AlarmHeard, $"{alarm.Kind}{TestItems.Separator}{alarm.At}");
        }

        if (job.StandOff is not null)
        {
            return new Need(NeedKind.StandOff, string.Empty);
        }

        if (job.Halt is { Final: true })
        {
            return new Need(NeedKind.HandOver, string.Empty);
        }

        return job.Doubt ? new Need(NeedKind.NothingTouched, string.Empty) : null;
    }

    private static Need? Preparation(Job job)
    {
        if (!job.SoundChecked)
        {
            return new Need(NeedKind.SoundCheck, string.Empty);
        }

        if (job.Scene is { Confirmed: false } scene)
        {
            return Arriving(scene);
        }

        if (job.Sheet is null)
        {
            return new Need(NeedKind.ChooseSheet, string.Empty);
        }

        var item = job.Kit.FirstOrDefault(kit => !job.Checked.Contains(kit.Id) && !IsReplaced(job, kit));
        return item is null ? null : new Need(NeedKind.CheckKit, item.Id.Value);
    }

    /// <summary>True for a tester that failed while another one was looked over: that one is used.</summary>
    private static bool IsReplaced(Job job, KitItem item) =>
        job.Failed.Contains(item.Id) && job.Kit.Any(other => other.Kind == KitKind.Tester && job.Checked.Contains(other.Id));

    private static Need Arriving(Scene scene) => scene.Next switch
    {
        null => new Need(NeedKind.SceneReadBack, string.Empty),
        { Leads: Leads.Act } item => new Need(NeedKind.SceneAct, item.Id.Value),
        var item => new Need(scene.Answers.ContainsKey(item.Id) ? NeedKind.SceneRemedy : NeedKind.SceneQuestion, item.Id.Value),
    };

    private static Need? Consequence(Job job)
    {
        if (job.Halt is not null)
        {
            return new Need(NeedKind.GoOn, string.Empty);
        }

        return job.Inability switch
        {
            null => null,
            { Reason: null } unable => new Need(NeedKind.InabilityReason, unable.Step.Value),
            var unable => new Need(NeedKind.TakeWay, Ways.After(job, unable.Step)?.Id.Value ?? string.Empty),
        };
    }

    private static Need Step(Job job)
    {
        var step = job.CurrentStep;
        if (step?.Kind is not (StepKind.Open or StepKind.Lock) && LockRegister.Orphan(job) is { } orphan)
        {
            return LockRegister.Removal(orphan);
        }

        if (step is null)
        {
            return new Need(job.ToolsOut is null ? NeedKind.CountTools : NeedKind.Working, string.Empty);
        }

        return step.Kind switch
        {
            StepKind.Open => new Need(NeedKind.OpenPoint, step.Id.Value),
            StepKind.Lock => Locking(job, step),
            StepKind.Wait => new Need(NeedKind.WaitOver, step.Id.Value),
            StepKind.Test => TestItems.Next(job, step),
            StepKind.Cover => new Need(NeedKind.CoverLiveSide, step.Id.Value),
            StepKind.Clear => new Need(NeedKind.ClaimClear, step.Id.Value),
            _ => new Need(NeedKind.Act, step.Id.Value),
        };
    }

    /// <summary>The technician's lock first, then everybody else's who works here.</summary>
    private static Need Locking(Job job, Step step)
    {
        var holder = LockRegister.Lacking(job, step.Point!.Value);
        return new Need(NeedKind.FitLock, holder is null || holder == job.Technician ? step.Id.Value : $"{step.Id}{TestItems.Separator}{holder}");
    }
}
