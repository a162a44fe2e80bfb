namespace Companion.Papers.Reading;

/// <summary>What became of a photograph of a paper.</summary>
/// <param name="Text">The text of its square code; null when none was read.</param>
/// <param name="Fault">Why none was read.</param>
public sealed record PhotoReading(string? Text, PhotoFault Fault)
{
    internal static PhotoReading Of(PhotoFault fault) => new(null, fault);
}

/// <summary>Why no code was read.</summary>
public enum PhotoFault
{
    /// <summary>One was.</summary>
    None,

    /// <summary>It is no JPEG, PNG or WebP picture, or it is damaged.</summary>
    NoPicture,

    /// <summary>It has more picture points than are opened.</summary>
    TooManyPoints,

    /// <summary>No code was found in it.</summary>
    NoCode,
}
