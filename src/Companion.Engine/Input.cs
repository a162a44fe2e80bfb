using Companion.Domain.Deciding;
using Companion.Domain.Time;
using Companion.Engine.Ports;

namespace Companion.Engine;

/// <summary>Something that reached the loop, with the moment it did.</summary>
/// <param name="Arrived">When it was posted.</param>
internal abstract record Input(Moment Arrived);

/// <summary>A command from a view, or the pulse.</summary>
internal sealed record CommandInput(Command Command, Moment Arrived) : Input(Arrived);

/// <summary>An utterance.</summary>
internal sealed record HearingInput(Hearing Hearing, Moment Arrived) : Input(Arrived);

/// <summary>The end of a prompt.</summary>
internal sealed record ReceiptInput(PromptReceipt Receipt, Moment Arrived) : Input(Arrived);

/// <summary>A device came or went.</summary>
internal sealed record NoticeInput(DeviceNotice Notice, Moment Arrived) : Input(Arrived);
