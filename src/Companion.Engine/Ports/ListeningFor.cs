namespace Companion.Engine.Ports;

/// <summary>The phrases that may be heard while one question is open.</summary>
/// <param name="Question">The question's sequence; 0 when none is open. Speech that began under another question keeps that one's number.</param>
/// <param name="Phrases">The phrases, the global ones included.</param>
public sealed record ListeningFor(long Question, IReadOnlyList<PhrasePattern> Phrases);

/// <summary>One thing that may be said.</summary>
/// <param name="Id">The phrase's id, handed back with the hearing.</param>
/// <param name="Pattern">
/// Lower-case words with `[optional]`, `(this|that)` and the slots `{digits:MIN-MAX}` (spoken digit by digit) and
/// `{number}` (digits with an optional "decimal" or "point" part, or whole hundreds and thousands).
/// </param>
/// <param name="Loose">True for stop and help: a looser threshold, because a false accept does no harm.</param>
public sealed record PhrasePattern(string Id, string Pattern, bool Loose = false);
