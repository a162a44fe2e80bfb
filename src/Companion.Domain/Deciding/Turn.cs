using System.Collections.Immutable;
using Companion.Domain.Asking;
using Companion.Domain.Events;
using Companion.Domain.Evolving;
using Companion.Domain.Isolation;
using Companion.Domain.Time;

namespace Companion.Domain.Deciding;

/// <summary>One command being decided: the events so far and the job as they leave it. Never outlives the decision.</summary>
internal sealed class Turn(Job job, Moment moment, int draw)
{
    private readonly ImmutableArray<JobEvent>.Builder _events = ImmutableArray.CreateBuilder<JobEvent>();

    /// <summary>The job with this turn's events.</summary>
    public Job Job { get; private set; } = job;

    /// <summary>When.</summary>
    public Moment Moment { get; } = moment;

    /// <summary>Chance for a fresh code.</summary>
    public int Draw { get; } = draw;

    /// <summary>True when the open question must be put again, whatever it is.</summary>
    public bool AskAnew { get; set; }

    /// <summary>Counted time now.</summary>
    public Ticks Counted => Job.Clock.CountedAt(Moment);

    /// <summary>The events so far.</summary>
    public ImmutableArray<JobEvent> Events => _events.ToImmutable();

    /// <summary>Adds an event; the job moves with it.</summary>
    public void Add(JobEvent happened)
    {
        _events.Add(happened);
        Job = Evolve.Apply(Job, happened, Job.Id, Job.Sequence + 1, Moment)!;
    }

    /// <summary>Asks for a fresh code on the open question.</summary>
    public void AskCode() => Add(new CodeAsked(Job.Question!.Sequence, FreshCode.From(Draw, Job.Question.Code)));
}
