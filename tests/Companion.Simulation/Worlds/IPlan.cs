namespace Companion.Simulation.Worlds;

/// <summary>Everything that a world follows from. Its text is the line that replays it.</summary>
internal interface IPlan
{
    /// <summary>How many things happen.</summary>
    int Steps { get; }

    /// <summary>Steps that are left out, so that a failing world can be made small.</summary>
    IReadOnlySet<int> Skipped { get; }

    /// <summary>The same world, shorter or with other steps left out.</summary>
    IPlan With(int steps, IReadOnlySet<int> skipped);

    /// <summary>Lives it; returns a hash of what came of it.</summary>
    /// <exception cref="Companion.TestKit.Judging.InvariantBrokenException">An invariant does not hold; <see cref="Tally.Step"/> is the step that broke it.</exception>
    string Live(Tally tally);
}
