using Companion.Domain.Asking;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;

namespace Companion.Domain.CheckIn;

/// <summary>What a technician is exposed to, as far as it decides how often somebody asks after them.</summary>
public enum WorkPhase
{
    /// <summary>The job is open, nobody is at the vehicle yet.</summary>
    Travelling,

    /// <summary>The scene is looked at; nothing is touched.</summary>
    Triage,

    /// <summary>Points are opened, closed or tested: live parts may be within reach.</summary>
    Exposed,

    /// <summary>Work on what was proved dead.</summary>
    Working,

    /// <summary>Waiting, hands off: a countdown, a heat watch, a job that is stopped.</summary>
    Watching,
}

/// <summary>Tells the phase of a job. A function of the job alone.</summary>
public static class WorkPhases
{
    /// <summary>The phase now.</summary>
    public static WorkPhase Of(Job job)
    {
        if (job.StandOff is not null || job.Halt is not null)
        {
            return WorkPhase.Watching;
        }

        if (!job.SoundChecked)
        {
            return WorkPhase.Travelling;
        }

        if (job.Sheet is null || job.Scene is { Confirmed: false })
        {
            return WorkPhase.Triage;
        }

        if (job.PuttingBack)
        {
            return WorkPhase.Exposed;
        }

        if (job.Clearance is not null)
        {
            return WorkPhase.Working;
        }

        return job.CurrentStep?.Kind switch
        {
            StepKind.Wait => WorkPhase.Watching,
            _ => job.EverOpened || job.Question?.Need.Kind == NeedKind.OpenPoint ? WorkPhase.Exposed : WorkPhase.Triage,
        };
    }
}
