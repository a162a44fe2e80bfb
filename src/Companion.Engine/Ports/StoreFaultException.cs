namespace Companion.Engine.Ports;

/// <summary>The store cannot be used or has failed. The message says what happened and what to do.</summary>
public sealed class StoreFaultException : Exception
{
    /// <summary>A fault with its plain-words message and, where there is one, its cause.</summary>
    public StoreFaultException(string message, Exception? cause = null)
        : base(message, cause)
    {
    }
}
