using Companion.Journal.Ledger;

namespace Companion.Journal;

/// <summary>What a failing store says to whoever is at it: what happened and what to do. Pure; any thread.</summary>
internal sealed class StoreWords(string directory, StoreOptions options)
{
    // ENOSPC and EDQUOT on Linux, ERROR_DISK_FULL on Windows.
    private static readonly int[] FullDisk = [28, 122, unchecked((int)0x80070070)];

    // EROFS on Linux, ERROR_WRITE_PROTECT on Windows.
    private static readonly int[] ReadOnlyDisk = [30, unchecked((int)0x80070013)];

    // EIO on Linux, ERROR_IO_DEVICE on Windows.
    private static readonly int[] FailingDisk = [5, unchecked((int)0x8007045D)];

    /// <summary>For a store that cannot be opened.</summary>
    public string CannotOpen(Exception cause) =>
        $"The store {directory} cannot be opened: {What(cause)} Nothing is being recorded.";

    /// <summary>For a store that another program holds.</summary>
    public string AlreadyOpen() =>
        $"The store {directory} is already open in this or another program. Close the other one first. Nothing is being recorded here.";

    /// <summary>For a store whose write or read failed: spoken after "Not recording", so it names no folder.</summary>
    public string Failed(Exception cause)
    {
        var what = What(cause);
        return $"{char.ToUpperInvariant(what[0])}{what[1..]} Nothing is recorded until {options.Program} has been started again.";
    }

    /// <summary>True for a failure of the disk itself, whatever was asked of it.</summary>
    public static bool IsOfDisk(Exception cause) =>
        cause is IOException && (FullDisk.Contains(cause.HResult) || ReadOnlyDisk.Contains(cause.HResult) || FailingDisk.Contains(cause.HResult));

    private string Again => $"Restart {options.Program}; if it comes back, {options.Otherwise}.";

    private string What(Exception cause) => cause switch
    {
        PageMisfitException or LedgerDamageException or FormatException =>
            $"what was read back from the disk is not what was written. {Again}",
        IOException when FullDisk.Contains(cause.HResult) =>
            "the disk is full. Free some space: copy exports away and delete what is not needed.",
        IOException when ReadOnlyDisk.Contains(cause.HResult) =>
            $"the disk takes no more writes; it was set to read-only, perhaps because it is failing. {Again}",
        UnauthorizedAccessException =>
            "this program may not write there. Give its user the right to write in that folder, or choose another folder.",
        _ => $"the disk failed. {Again}",
    };
}
