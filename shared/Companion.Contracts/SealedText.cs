namespace Companion.Contracts;

/// <summary>A personal text and the salt it was hashed with. Erasing both leaves the chain provable.</summary>
/// <param name="Salt">16 random bytes as lower-case hex.</param>
/// <param name="Text">The text itself.</param>
public sealed record SealedText(string Salt, string Text);
