using Companion.Engine.Ports;
using Companion.Journal.Frames;
using Companion.Journal.Heads;
using Companion.Journal.Ledger;
using Companion.Journal.Linking;

namespace Companion.Journal.Opening;

/// <summary>Everything of an open store, verified and in agreement.</summary>
internal sealed record OpenedStore(
    StoreFiles Files,
    StoreParts Parts,
    IDisposable Lock,
    FrameFile Witness,
    SealedFile Sealed,
    LedgerStore Ledger,
    ChainIndex Index,
    HeadClock HeadClock,
    bool IsNewKey,
    IReadOnlyList<StoreFinding> Findings);
