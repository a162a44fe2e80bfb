namespace Companion.Journal.Ledger;

/// <summary>The LiteDB store cannot be trusted: a page misfits, a document is missing or differs. The witness remains.</summary>
internal sealed class LedgerDamageException(string message, Exception? cause = null) : Exception(message, cause);
