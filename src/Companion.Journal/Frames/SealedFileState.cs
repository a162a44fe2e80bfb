namespace Companion.Journal.Frames;

/// <summary>How the file of personal texts was found.</summary>
internal enum SealedFileState
{
    /// <summary>Every frame fits, or there is no file yet.</summary>
    Sound,

    /// <summary>Bytes follow the last whole frame: an interrupted append, or a damaged last frame.</summary>
    Ragged,

    /// <summary>Bytes that do not fit lie before others that do.</summary>
    Damaged,
}
