namespace Companion.Watchroom.Reviewing;

/// <summary>A comment on a recorded job.</summary>
/// <param name="Number">Its sequence in the chain "review".</param>
/// <param name="At">When it was written.</param>
/// <param name="Sequence">The entry that it is about; 0 for the whole job.</param>
/// <param name="Person">Who wrote it down; null once erased.</param>
/// <param name="Text">The comment; null once erased.</param>
/// <param name="OfTechnician">True when the words are the technician's.</param>
/// <param name="Signed">Who countersigned it; null while nobody did.</param>
public sealed record Comment(long Number, DateTimeOffset At, long Sequence, string? Person, string? Text, bool OfTechnician, Countersigning? Signed);

/// <summary>A countersigning.</summary>
/// <param name="Person">Who; null once erased.</param>
/// <param name="At">When.</param>
public sealed record Countersigning(string? Person, DateTimeOffset At);
