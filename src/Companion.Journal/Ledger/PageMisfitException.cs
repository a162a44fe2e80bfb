namespace Companion.Journal.Ledger;

/// <summary>A page read back is not what was written. Unlike other input and output errors, trying again later cannot help.</summary>
internal sealed class PageMisfitException(string message) : IOException(message);
