using Companion.Watchroom.Access;
using Companion.Watchroom.Proving;
using Companion.Watchroom.Receiving;
using Companion.Watchroom.Telling;
using Companion.Watchroom.Watching;
using Companion.Watchroom.Web;

namespace Companion.Watchroom;

/// <summary>Everything that the pages and the uplink stand on.</summary>
internal sealed record WatchroomServices(IWatchKeeper Keeper, IJournalReceiver Receiver, Devices Devices, PairCodes Codes, Counters Counters)
{
    /// <summary>What the tablets' requests need of it.</summary>
    public UplinkServices Uplink => new(Keeper, Receiver, Devices, Codes, Counters, Audit, CounterSigner.Arrived);

    public required People People { get; init; }

    public required Sessions Sessions { get; init; }

    public required Audit Audit { get; init; }

    public required Reviewing.Comments Comments { get; init; }

    public required ActSpool Acts { get; init; }

    public required Teller Teller { get; init; }

    public required CounterSigner CounterSigner { get; init; }

    public required Checking.PhotoDesk Photos { get; init; }

    /// <summary>The folder that everything is kept in.</summary>
    public required string Store { get; init; }

    /// <summary>The watch room's own journal; what reads it blocks while it is being opened.</summary>
    public required OpeningJournal Journal { get; init; }

    public required TimeProvider Time { get; init; }

    /// <summary>What is amiss, in plain words; empty when all is well.</summary>
    public required Func<IReadOnlyList<string>> Faults { get; init; }

    /// <summary>The same with what else is amiss with the watch room itself, and who has taken note of it.</summary>
    public required RoomTroubles Troubles { get; init; }

    /// <summary>False when deadlines are not being looked at: then no page may be told that all is alive.</summary>
    public required Func<bool> IsWatching { get; init; }
}
