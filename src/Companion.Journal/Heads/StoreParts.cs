using Companion.Engine.Ports;

namespace Companion.Journal.Heads;

/// <summary>What the store's own entries are made with.</summary>
/// <param name="Store">Whose entries they are.</param>
/// <param name="Signer">Signs heads.</param>
/// <param name="Salts">Salts for personal texts.</param>
/// <param name="Clock">Tells the moment of the store's own entries.</param>
internal sealed record StoreParts(StoreIdentity Store, IHeadSigner Signer, ISaltSource Salts, IClock Clock);
