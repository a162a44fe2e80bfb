namespace Companion.Journal;

/// <summary>What a failing store says to the technician: what happened and what to do. Pure; any thread.</summary>
internal sealed class StoreWords(string directory)
{
    // ENOSPC and EDQUOT on Linux, ERROR_DISK_FULL on Windows.
    private static readonly int[] FullDisk = [28, 122, unchecked((int)0x80070070)];

    /// <summary>For a store that cannot be opened.</summary>
    public string CannotOpen(Exception cause) =>
        $"The store {directory} cannot be opened: {What(cause)} Nothing is being recorded.";

    /// <summary>For a store whose write or read failed.</summary>
    public string NotRecording(Exception cause) =>
        $"Not recording: {What(cause)} Proofs are void until the store {directory} has been opened again and recording is confirmed.";

    private static string What(Exception cause) => cause is IOException && FullDisk.Contains(cause.HResult)
        ? "the disk is full. Free some space: copy exports away and delete what is not needed."
        : $"the disk or its files failed ({cause.Message.TrimEnd('.')}). "
            + "Restart the app; if it comes back, use another tablet and keep this one for the team lead.";
}
