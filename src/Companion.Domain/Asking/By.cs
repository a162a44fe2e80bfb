namespace Companion.Domain.Asking;

/// <summary>By what an answer came.</summary>
public enum By
{
    /// <summary>Spoken and recognised.</summary>
    Voice,

    /// <summary>A finger on the screen or a keyboard key.</summary>
    Touch,

    /// <summary>The one physical button.</summary>
    Button,
}
