using Companion.Contracts;

namespace Companion.Journal.Ledger;

/// <summary>One document of the ledger.</summary>
/// <param name="Arrival">Its number in order of arrival over all chains, from 1: the document's `_id`.</param>
/// <param name="Entry">The entry, with its sealed texts.</param>
internal sealed record LedgerRow(long Arrival, JournalEntry Entry);
