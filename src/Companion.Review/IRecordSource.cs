namespace Companion.Review;

/// <summary>The records that may be looked at: a tablet's own jobs, or all that a watch room received. Callable from any thread; reads only.</summary>
public interface IRecordSource
{
    /// <summary>What there is, the newest first.</summary>
    IReadOnlyList<RecordName> Names();

    /// <summary>Opens a record as far as it can be; null when there is none of that name.</summary>
    RecordedJob? Open(RecordName name);

    /// <summary>Another text whenever the record has grown or a personal text of it was erased; found without reading it whole. Any text for what there is not.</summary>
    string StampOf(RecordName name);
}

/// <summary>Which record.</summary>
/// <param name="Device">The device that made it, as the watch room names it; empty for the tablet's own.</param>
/// <param name="Chain">The job's id.</param>
public sealed record RecordName(string Device, string Chain);
