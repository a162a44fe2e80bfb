namespace Companion.Engine.Ports;

/// <summary>A device came or went, or a person must be told of something, as an input of the loop.</summary>
/// <param name="Device">"microphone", "loudspeaker" or "ear" (no model), "loudspeaker sound" (a warning: the microphone does not hear it), or "watch room".</param>
/// <param name="Present">False when lost.</param>
/// <param name="Detail">What happened and what to do about it.</param>
public sealed record DeviceNotice(string Device, bool Present, string Detail)
{
    /// <summary>The name under which damage of the record is told.</summary>
    public const string Record = "record";

    /// <summary>The name under which the silence of the watch room is told.</summary>
    public const string Watchroom = "watch room";

    /// <summary>The name under which trouble with the recording of sound is told.</summary>
    public const string Sound = "sound recording";

    /// <summary>The name under which a standstill of the Companion itself is told.</summary>
    public const string Companion = "companion";

    /// <summary>
    /// What is spoken as a warning; the notice then stands until a person has given an answer that was taken (I19). Null for a plain notice.
    /// Short: while a warning sounds nobody is heard.
    /// </summary>
    public string? Warning { get; init; }
}
