using Companion.Contracts;

namespace Companion.Journal.Linking;

/// <summary>From where to where a chain was seen.</summary>
/// <param name="First">Its first entry.</param>
/// <param name="Last">Its last entry so far.</param>
internal readonly record struct ChainSpan(JournalEntry First, JournalEntry Last);
