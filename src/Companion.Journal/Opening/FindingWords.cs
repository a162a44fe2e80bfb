using Companion.Engine.Ports;

namespace Companion.Journal.Opening;

/// <summary>
/// What opening tells the technician about each thing it can find: what happened, what is kept where, what to do. How the files are
/// made inside goes into the detail, for the next engineer. Pure; any thread.
/// </summary>
internal static class FindingWords
{
    /// <summary>Entries are missing or altered; a new segment goes on.</summary>
    public static StoreFinding Damaged(string directory, long held, IEnumerable<string> chains, string detail) => new(
        true,
        $"The record was damaged on the disk. {held} entries hold and were taken over. "
        + $"Entries may be missing from: {string.Join(", ", chains)}. "
        + $"The damaged files are kept untouched in {directory}: copy them for the team lead. "
        + "Treat every proof of this job as void and start its waits again.",
        detail);

    /// <summary>The database was made again from the witness.</summary>
    public static StoreFinding Rebuilt(string directory, string prefix, string detail) => new(
        false,
        "The second copy of the record was damaged and has been made again from the first. Nothing is missing. "
        + $"The damaged files are kept in {directory} under names that begin with {prefix}: tell the team lead when the job is over.",
        detail);

    /// <summary>The database lacked the newest entries.</summary>
    public static StoreFinding CaughtUp(long entries) => new(
        false,
        $"The second copy of the record lacked the last {entries} entries; they were put in again from the first. Nothing is missing.",
        $"LiteDB lacked the last {entries} entries of the witness");

    /// <summary>An unacknowledged write was cut off.</summary>
    public static StoreFinding Trimmed(long bytes) => new(
        false,
        "The last write had been interrupted before it was confirmed, and was dropped. Nothing that was confirmed is missing.",
        $"{bytes} bytes behind the last whole frame were trimmed from the witness");

    /// <summary>Another signing key than before.</summary>
    public static StoreFinding NewKey(string root) => new(
        false,
        $"The key that signs this tablet's record in {root} is missing or damaged. The record goes on with a new key: tell the team lead.",
        "the public key differs from the one the tablet's chain named last");

    /// <summary>Personal texts are missing from their file.</summary>
    public static StoreFinding TextsDamaged(string directory, string? prefix, int completed) => new(
        true,
        "The names and heard words that are kept beside the record were damaged. "
        + $"{completed} of them were put in again from the second copy; some may be missing. The record itself is whole. "
        + (prefix is null
            ? "Tell the team lead when the job is over."
            : $"The damaged file is kept in {directory} under a name that begins with {prefix}: tell the team lead when the job is over."),
        $"the sealed file lacks or misfits; {completed} entries' texts were completed from LiteDB");

    /// <summary>Files of two tablets or kinds in one folder: nobody can say which are the right ones.</summary>
    public static string Mixed(string root) =>
        $"The files in {root} belong to two different stores: some were copied in from another one. Nothing was changed. "
        + "Put the right files back, or keep this folder for the team lead and choose another one. Nothing is being recorded.";
}
