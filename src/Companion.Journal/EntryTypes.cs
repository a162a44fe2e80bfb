namespace Companion.Journal;

/// <summary>The entry types the journal itself writes or acts on; all others are the engine's and pass through.</summary>
public static class EntryTypes
{
    /// <summary>First entry of a store: its kind and the tablet's public key.</summary>
    public const string StoreCreated = "store.created";

    /// <summary>A chain goes on after damage; the only place where sequences may leave a gap.</summary>
    public const string SegmentStarted = "segment.started";

    /// <summary>A signed statement in the tablet's chain of where a job's chain ends.</summary>
    public const string HeadSigned = "head.signed";

    /// <summary>A job begins.</summary>
    public const string JobOpened = "job.opened";

    /// <summary>A job ends.</summary>
    public const string JobClosed = "job.closed";

    /// <summary>The technician is told that sound is recorded, and for how long it is kept.</summary>
    public const string SoundAnnounced = "sound.announced";

    /// <summary>A job goes to another technician or organisation.</summary>
    public const string JobHandedOver = "job.handedover";
}
