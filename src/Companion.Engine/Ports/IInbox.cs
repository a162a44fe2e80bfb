namespace Companion.Engine.Ports;

/// <summary>Where ports bring what happened. Callable from any thread; returns at once.</summary>
public interface IInbox
{
    /// <summary>An utterance was heard.</summary>
    void Post(Hearing hearing);

    /// <summary>A prompt ended.</summary>
    void Post(PromptReceipt receipt);

    /// <summary>A device came or went.</summary>
    void Post(DeviceNotice notice);
}
