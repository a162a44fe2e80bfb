namespace Companion.Voice.Ear;

/// <summary>One phone at one place of a pattern.</summary>
/// <param name="Phone">Its symbol's index.</param>
/// <param name="Word">The word it belongs to.</param>
/// <param name="StartsWord">Whether it is that word's first phone.</param>
/// <param name="Before">The nodes that may come just before it.</param>
internal sealed record PhoneNode(int Phone, string Word, bool StartsWord, int[] Before);
