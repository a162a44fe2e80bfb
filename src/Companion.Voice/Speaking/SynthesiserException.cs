namespace Companion.Voice.Speaking;

/// <summary>A text could not be made into speech. The message says why.</summary>
public sealed class SynthesiserException : Exception
{
    /// <summary>A fault with its plain-words message and, where there is one, its cause.</summary>
    public SynthesiserException(string message, Exception? cause = null)
        : base(message, cause)
    {
    }
}
