using System.Collections.Immutable;

namespace Companion.Domain.Electrical;

/// <summary>The isolation resistance that readings give, or why they give none.</summary>
public abstract record IsolationResult
{
    private IsolationResult()
    {
    }

    /// <summary>It was found.</summary>
    /// <param name="Ohms">Isolation resistance of the weaker leg, in ohms (Ri).</param>
    /// <param name="OhmsPerVolt">The same divided by the rail-to-rail voltage.</param>
    /// <param name="WeakLeg">The rail whose isolation from the chassis is the weaker.</param>
    /// <param name="Cautions">What makes the figure less sure, in sentences.</param>
    public sealed record Found(decimal Ohms, decimal OhmsPerVolt, Rail WeakLeg, ImmutableArray<string> Cautions) : IsolationResult
    {
        /// <summary>True when it is enough for a system that is DC throughout; equal passes.</summary>
        public bool PassesDc => OhmsPerVolt >= IsolationResistance.LeastOhmsPerVoltDc;

        /// <summary>True when it is enough for a system with AC parts joined to it; equal passes.</summary>
        public bool PassesAc => OhmsPerVolt >= IsolationResistance.LeastOhmsPerVoltAc;
    }

    /// <summary>The readings cannot be used.</summary>
    /// <param name="Reason">Why, and what to do.</param>
    public sealed record Unusable(string Reason) : IsolationResult;
}

/// <summary>One side of a high-voltage system.</summary>
public enum Rail
{
    /// <summary>The positive rail.</summary>
    Positive,

    /// <summary>The negative rail.</summary>
    Negative,
}
