namespace Companion.Simulation.Watched;

/// <summary>What ails the disk of the watch room.</summary>
internal enum DiskAilment
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>It is full: what grows is not taken.</summary>
    Full,

    /// <summary>It takes nothing any more.</summary>
    Broken,

    /// <summary>One write or sync fails, and all is as before.</summary>
    OneError,
}
