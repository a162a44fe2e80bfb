namespace Companion.Voice.Ear;

/// <summary>A phrase ready to be listened for.</summary>
/// <param name="Id">The phrase's id.</param>
/// <param name="Loose">Whether the looser thresholds hold.</param>
/// <param name="Graph">All ways of saying it.</param>
public sealed record CompiledPhrase(string Id, bool Loose, PhoneGraph Graph);
