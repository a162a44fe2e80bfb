namespace Companion.Engine.Ports;

/// <summary>A device came or went, as an input of the loop.</summary>
/// <param name="Device">"microphone", "loudspeaker" or "ear" (no model).</param>
/// <param name="Present">False when lost.</param>
/// <param name="Detail">What happened and what to do about it.</param>
public sealed record DeviceNotice(string Device, bool Present, string Detail);
