using Companion.Contracts;
using Companion.Journal.Heads;
using Companion.Journal.Reading;
using Companion.Watchroom.Receiving;
using Companion.Watchroom.Web;

namespace Companion.Watchroom.Checking;

/// <summary>The keys that a tablet's own chain names. It arrived under the signature of the key that the tablet was paired with.</summary>
internal static class TabletKeys
{
    /// <summary>The public key of an id; null when the chain names none, or has not arrived.</summary>
    public static string? Find(IJournalReceiver receiver, string device, string keyId) =>
        receiver.Read(device, Chains.Tablet).Select(line => LineReading.Of(line).Entry).OfType<JournalEntry>().Select(HeadStatement.PublicKeyIn)
            .FirstOrDefault(key => key is not null && HeadStatement.KeyId(key) == keyId);
}
