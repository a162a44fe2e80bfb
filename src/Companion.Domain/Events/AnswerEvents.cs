using Companion.Domain.Asking;
using Companion.Domain.Electrical;

namespace Companion.Domain.Events;

/// <summary>A question was put. Its own sequence is the question's number.</summary>
public sealed record QuestionAsked(NeedKind Question, string Step) : JobEvent;

/// <summary>What was heard is repeated and waits to be confirmed.</summary>
public sealed record AnswerEchoed(
    long Question,
    Phrase Phrase,
    string? Number,
    bool Below,
    VoltageKind? Kind,
    string? Digest,
    By By,
    int Confidence,
    string? About = null) : JobEvent;

/// <summary>A fresh two-digit number is asked for.</summary>
public sealed record CodeAsked(long Question, string Code) : JobEvent;

/// <summary>The number came back right, or a deliberate hold stood for it.</summary>
public sealed record CodeAccepted(long Question, By By) : JobEvent;

/// <summary>The number came back wrong.</summary>
public sealed record CodeFailed(long Question, By By, string Reason) : JobEvent;

/// <summary>The technician said that the echo was wrong, or said another value.</summary>
public sealed record AnswerCorrected(long Question, By By) : JobEvent;

/// <summary>A step, or another thing that was asked, is confirmed.</summary>
public sealed record StepConfirmed(NeedKind Question, string Step, By By, int Confidence) : JobEvent;

/// <summary>An answer was refused.</summary>
public sealed record StepRefused(string Step, By By, int Confidence, string Reason, long RemainingSeconds) : JobEvent;

/// <summary>An utterance that led to nothing, or why it did.</summary>
public sealed record SpeechHeard(Personal Text, Phrase? Phrase, bool Accepted, string Reason, int Confidence) : JobEvent;

/// <summary>A prompt was played to its end.</summary>
public sealed record PromptSpoken(string Text) : JobEvent;

/// <summary>A prompt was not played to its end.</summary>
public sealed record PromptFailed(string Text, string Reason) : JobEvent;

/// <summary>A device was lost.</summary>
public sealed record DeviceLost(string Which, string Reason) : JobEvent;

/// <summary>A device returned.</summary>
public sealed record DeviceReturned(string Which) : JobEvent;

/// <summary>A view went without word from the engine and shows nothing that could be believed.</summary>
public sealed record ViewLost(string Which) : JobEvent;
