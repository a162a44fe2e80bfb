using System.Collections.Immutable;
using Companion.Domain.Isolation;
using Companion.Domain.Time;

namespace Companion.Engine;

/// <summary>What views show: immutable, replaced after every turn of the loop. Its moment proves that the engine is alive.</summary>
/// <param name="Job">The job; null when none was opened in this run.</param>
/// <param name="Moment">When the loop last turned.</param>
/// <param name="Recording">False when the store failed or does not answer: nothing permissive is accepted or shown.</param>
/// <param name="Trouble">What is wrong with the store, and what to do; null when nothing is.</param>
/// <param name="LastHeard">The last thing heard, and what became of it.</param>
/// <param name="Lost">Devices that are lost, with advice.</param>
public sealed record Snapshot(
    Job? Job, Moment Moment, bool Recording, string? Trouble, HeardLine? LastHeard, ImmutableDictionary<string, string> Lost);

/// <summary>The last thing heard or pressed.</summary>
/// <param name="Words">The words.</param>
/// <param name="Outcome">What became of it.</param>
/// <param name="Accepted">True when it led on.</param>
public sealed record HeardLine(string Words, string Outcome, bool Accepted);
