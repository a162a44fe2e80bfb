using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Isolation;
using Companion.Domain.Time;

namespace Companion.TestKit.Walking;

/// <summary>A job on a <see cref="JobBench"/> for a <see cref="Walker"/>: rules alone, no loop and no store; a restart changes nothing.</summary>
public sealed class BenchWorld : IWalkedJob
{
    /// <summary>The job's bench.</summary>
    public JobBench Bench { get; } = new() { Watch = DemoWatch.ByPhase() };

    /// <inheritdoc/>
    public Job? Job => Bench.Job;

    /// <inheritdoc/>
    public DemoTime Time => Bench.Time;

    /// <inheritdoc/>
    public void Pass(Ticks span)
    {
        Time.Pass(span);
        Do(new Tick());
    }

    /// <inheritdoc/>
    public void Do(Command command) => Bench.Do(command);

    /// <inheritdoc/>
    public Answer Answer(Phrase phrase, string? number) => new()
    {
        Question = Job?.Question?.Sequence ?? 0,
        Began = Time.Now,
        By = By.Voice,
        Phrase = phrase,
        Number = number,
        Sheet = Job?.Sheet is null ? new OfferedSheet(Bench.Sheet, "digest") : null,
    };

    /// <inheritdoc/>
    public void Open()
    {
        if (Job is null)
        {
            Bench.Open();
        }
    }

    /// <inheritdoc/>
    public void Restart() => Do(new Tick());
}
