using System.Net;
using Companion.Journal.Disk;

namespace Companion.Watchroom;

/// <summary>How to start the watch room.</summary>
/// <param name="Store">The folder that everything is kept in.</param>
public sealed record WatchroomOptions(string Store)
{
    /// <summary>The port that is asked for when none is named.</summary>
    public const int UsualPort = 7443;

    /// <summary>The port; 0 takes a free one.</summary>
    public int Port { get; init; } = UsualPort;

    /// <summary>The address to listen on; null means all of this machine's, for the tablets come from outside.</summary>
    public IPAddress? Listen { get; init; }

    /// <summary>A certificate with its key, brought as PFX or PEM; null uses the one in the store, made when missing.</summary>
    public string? Certificate { get; init; }

    /// <summary>The one clock of the watch room; null takes its own, which nobody can set.</summary>
    public TimeProvider? Time { get; init; }

    /// <summary>The file system of the journal and of the watch's own files.</summary>
    public IDisk Disk { get; init; } = new LocalDisk();
}
