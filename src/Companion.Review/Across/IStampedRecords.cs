namespace Companion.Review.Across;

/// <summary>Records that tell cheaply whether one has changed. Callable from any thread.</summary>
public interface IStampedRecords : IRecordSource
{
    /// <summary>Another text whenever the record has grown or a personal text of it was erased; found without reading it whole.</summary>
    string StampOf(RecordName name);
}
