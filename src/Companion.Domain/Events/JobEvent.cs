namespace Companion.Domain.Events;

/// <summary>Something that happened, as it is journalled. Names and members follow the table of the journal's format.</summary>
public abstract record JobEvent;

/// <summary>A text about a person, which enters the chain only as a salted hash and can be erased.</summary>
/// <param name="Text">The text; null after erasure.</param>
public sealed record Personal(string? Text);
