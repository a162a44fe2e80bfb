namespace Companion.Voice.Ear;

/// <summary>One phone at one place of a pattern.</summary>
/// <param name="Phone">Its symbol's index.</param>
/// <param name="Word">The word it belongs to.</param>
/// <param name="StartsWord">Whether it is that word's first phone.</param>
/// <param name="Junction">Which set of nodes may come just before it.</param>
internal readonly record struct PhoneNode(int Phone, string Word, bool StartsWord, int Junction);
