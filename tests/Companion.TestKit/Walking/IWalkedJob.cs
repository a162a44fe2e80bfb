using Companion.Domain.Asking;
using Companion.Domain.Deciding;
using Companion.Domain.Isolation;
using Companion.Domain.Time;

namespace Companion.TestKit.Walking;

/// <summary>A job that a <see cref="Walker"/> can live: the bare rules, or a whole simulated tablet. One thread.</summary>
public interface IWalkedJob
{
    /// <summary>The job now.</summary>
    Job? Job { get; }

    /// <summary>The clocks.</summary>
    DemoTime Time { get; }

    /// <summary>Time passes while everything runs.</summary>
    void Pass(Ticks span);

    /// <summary>Brings a command.</summary>
    void Do(Command command);

    /// <summary>An answer that begins now to the question that is open now.</summary>
    Answer Answer(Phrase phrase, string? number);

    /// <summary>Somebody tries to open a job.</summary>
    void Open();

    /// <summary>The process starts again, at the moment that the clocks tell now.</summary>
    void Restart();
}
