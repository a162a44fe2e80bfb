using Companion.Watchroom.Access;
using Companion.Watchroom.Receiving;
using Companion.Watchroom.Watching;

namespace Companion.Watchroom.Web;

/// <summary>What requests of tablets are admitted by and brought to.</summary>
/// <param name="Keeper">The watch.</param>
/// <param name="Receiver">The received journals.</param>
/// <param name="Devices">Who is paired.</param>
/// <param name="Codes">By which a tablet may introduce itself.</param>
/// <param name="Counters">What was used before.</param>
/// <param name="Audit">Where refusals are written.</param>
/// <param name="Arrived">Told when a device's own chain may have grown.</param>
internal sealed record UplinkServices(
    IWatchKeeper Keeper, IJournalReceiver Receiver, Devices Devices, PairCodes Codes, Counters Counters, Audit Audit, Action<string> Arrived);
