namespace Companion.Voice.Tests.Audio;

/// <summary>Tests that promise seconds on the real sound system: one after the other, and nothing that computes beside them.</summary>
[CollectionDefinition(Name, DisableParallelization = true)]
public sealed class RealSound
{
    /// <summary>Its name.</summary>
    public const string Name = "real sound";
}
