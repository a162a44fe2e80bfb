using Companion.Contracts.Uplink;

namespace Companion.Uplink;

/// <summary>What the uplink is made of.</summary>
/// <param name="Folder">Where it keeps its key, its counters and what was acknowledged: inside the store.</param>
/// <param name="Source">The journal.</param>
/// <param name="Beat">The newest beat, whenever one is to be sent.</param>
/// <param name="Time">Measures pauses and time-outs.</param>
/// <param name="Chance">A number from 0 to 1 for the length of a pause.</param>
public sealed record UplinkParts(string Folder, IOutboxSource Source, Func<Beat> Beat, TimeProvider Time, Func<double> Chance)
{
    /// <summary>From one beat to the next.</summary>
    public TimeSpan BeatEvery { get; init; } = TimeSpan.FromSeconds(5);

    /// <summary>A beat that has no answer by then is given up.</summary>
    public TimeSpan BeatTimeout { get; init; } = TimeSpan.FromSeconds(4);

    /// <summary>A batch that has no answer by then is sent again.</summary>
    public TimeSpan AttemptTimeout { get; init; } = TimeSpan.FromSeconds(10);

    /// <summary>So long after the first new entry the next batch goes: what is recorded in one breath travels together.</summary>
    public TimeSpan Gather { get; init; } = TimeSpan.FromSeconds(1);

    /// <summary>The bound of the first pause; it doubles.</summary>
    public TimeSpan FirstPause { get; init; } = TimeSpan.FromSeconds(1);

    /// <summary>The bound of every later pause.</summary>
    public TimeSpan LongestPause { get; init; } = TimeSpan.FromSeconds(60);

    /// <summary>A chain that the watch room refused is left alone for so long: somebody has to look first, and every attempt costs the link.</summary>
    public TimeSpan RefusedPause { get; init; } = TimeSpan.FromMinutes(10);

    /// <summary>What stands in for the network in a simulation; null for the real one.</summary>
    internal Func<HttpMessageHandler>? Network { get; init; }

    /// <summary>The file that tells the watch room.</summary>
    public string WatchroomFile => Path.Combine(Folder, "watchroom.json");

    /// <summary>The file that tells up to where the watch room holds each chain.</summary>
    public string PositionsFile => Path.Combine(Folder, "sent.json");

    /// <summary>The file of the key.</summary>
    public string KeyFile => Path.Combine(Folder, "device.key");
}
