namespace Companion.Voice.Ear;

/// <summary>A phrase pattern that cannot be listened for: bad syntax or a word without pronunciation. A fault of the program or the sheet's wording.</summary>
public sealed class PatternException : Exception
{
    /// <summary>A fault with its plain-words message.</summary>
    public PatternException(string message)
        : base(message)
    {
    }
}
