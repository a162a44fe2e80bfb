using Companion.Engine.Ports;
using Companion.Voice.Audio;
using Companion.Voice.TurnTaking;

namespace Companion.Voice.Speaking;

/// <summary>
/// Speaks the prompts on a thread of its own: the most urgent first, an urgent one cutting off a lesser one within 20 ms plus what the
/// loudspeaker holds (40 ms). A step or refusal cut off is spoken again; a time call is not. While it sounds the ear is shut.
/// A prompt counts as played only after the loudspeaker has drained.
/// </summary>
public sealed class PromptQueue : ISpeaker, IDisposable
{
    /// <summary>So long a step or time call waits for a person who is speaking.</summary>
    public static readonly TimeSpan Courtesy = TimeSpan.FromSeconds(2);

    /// <summary>Without anything to say, the loudspeaker is looked for this often.</summary>
    public static readonly TimeSpan ProbeEvery = TimeSpan.FromMilliseconds(500);

    private static readonly TimeSpan CourtesyStep = TimeSpan.FromMilliseconds(50);

    private readonly SpeechCache synthesiser;
    private readonly ILoudspeaker loudspeaker;
    private readonly TurnGate turn;
    private readonly IPace pace;
    private readonly IClock clock;
    private readonly IInbox inbox;
    private readonly DevicePresence presence;
    private readonly LoudspeakerEcho? echo;
    private readonly PromptLine line = new();
    private readonly Lock gate = new();
    private readonly AutoResetEvent something = new(false);
    private readonly CancellationTokenSource end = new();
    private readonly Thread worker;
    private Prompt? sounding;
    private bool soundingIsStale;

    /// <summary>A queue that speaks as soon as something is said.</summary>
    /// <param name="speech">Makes the speech and keeps it.</param>
    /// <param name="loudspeaker">Where it sounds. The queue disposes of it.</param>
    /// <param name="turn">Shared with the ear.</param>
    /// <param name="pace">How time passes while a prompt waits for a person who speaks.</param>
    /// <param name="clock">Tells when a time call is stale.</param>
    /// <param name="inbox">Where receipts and the loss of the loudspeaker go.</param>
    /// <param name="echo">Told of the sound check's prompt; null when there is no ear.</param>
    public PromptQueue(
        SpeechCache speech, ILoudspeaker loudspeaker, TurnGate turn, IPace pace, IClock clock, IInbox inbox, LoudspeakerEcho? echo = null)
    {
        presence = new DevicePresence("loudspeaker", default, inbox, clock);
        this.echo = echo;
        synthesiser = speech;
        this.loudspeaker = loudspeaker;
        this.turn = turn;
        this.pace = pace;
        this.clock = clock;
        this.inbox = inbox;
        worker = new Thread(Work) { Name = "prompts", IsBackground = true, Priority = ThreadPriority.AboveNormal };
        worker.Start();
    }

    /// <inheritdoc/>
    public void Say(Prompt prompt)
    {
        ArgumentNullException.ThrowIfNull(prompt);
        PromptReceipt? dropped;
        lock (gate)
        {
            dropped = line.Add(prompt, clock.Now());
        }

        Post(dropped is null ? [] : [dropped]);
        something.Set();
        ThreadPool.UnsafeQueueUserWorkItem(RenderAhead, prompt.Text, preferLocal: false);
    }

    /// <inheritdoc/>
    public void DropStale(long beforePrompt)
    {
        IReadOnlyList<PromptReceipt> dropped;
        lock (gate)
        {
            dropped = line.DropBefore(beforePrompt);

            // A refusal that sounds is heard out: it says why the question changed.
            soundingIsStale |= sounding is { Urgency: <= Urgency.Step, Question: not 0 } && sounding.Id < beforePrompt;
        }

        Post(dropped);
    }

    /// <summary>Stops at once; what waits gets no receipt.</summary>
    public void Dispose()
    {
        end.Cancel();
        something.Set();
        worker.Join(TimeSpan.FromSeconds(2));
        loudspeaker.Dispose();
        something.Dispose();
        end.Dispose();
    }

    private void Work()
    {
        // Opened before the first prompt: a sound system that slept takes up to 2 s to begin (measured), an alarm should not.
        Look();
        while (!end.IsCancellationRequested)
        {
            if (TakeNext() is { } prompt)
            {
                Speak(prompt);
            }
            else if (!something.WaitOne(ProbeEvery) && !end.IsCancellationRequested)
            {
                Look();
            }
        }
    }

    private void Look()
    {
        try
        {
            loudspeaker.Probe();
            presence.Good();
        }
        catch (AudioDeviceException lost)
        {
            presence.Bad(lost.Message);
        }
    }

    private Prompt? TakeNext()
    {
        Yield();
        List<PromptReceipt> dropped = [];
        lock (gate)
        {
            sounding = line.Take(clock.Now(), dropped);
            soundingIsStale = false;
        }

        Post(dropped);
        return sounding;
    }

    // Lets a person finish, unless something urgent waits.
    private void Yield()
    {
        for (var waited = TimeSpan.Zero; waited < Courtesy && turn.SomebodySpeaks && OnlyPatientOnesWait(); waited += CourtesyStep)
        {
            pace.Pass(CourtesyStep, end.Token);
            if (waited.Ticks % ProbeEvery.Ticks == 0)
            {
                Look();
            }
        }
    }

    private bool OnlyPatientOnesWait()
    {
        lock (gate)
        {
            return line.Next is <= Urgency.Step && !end.IsCancellationRequested;
        }
    }

    // While another prompt sounds. The cache keeps what is made here; a failure shows again when the prompt's turn comes.
    private void RenderAhead(string text)
    {
        try
        {
            _ = synthesiser.Speak(text);
        }
        catch (SynthesiserException)
        {
        }
    }

    private void Speak(Prompt prompt)
    {
        string? fault = null;
        try
        {
            if (!Sound(prompt))
            {
                loudspeaker.Discard();
                echo?.Forget();
                CutOff(prompt);
                return;
            }

            loudspeaker.Drain();
            echo?.Sounded();
            presence.Good();
        }
        catch (AudioDeviceException lost)
        {
            fault = "no loudspeaker";
            echo?.Forget();
            presence.Bad(lost.Message);
        }
        catch (SynthesiserException)
        {
            fault = "synthesiser failed";
        }
        finally
        {
            turn.Release();
        }

        Ended();
        Post([new PromptReceipt(prompt.Id, fault is null, fault)]);
    }

    // False when it was cut off. An alarm's tone does not wait for its words; other prompts are made before the ear is shut.
    private bool Sound(Prompt prompt)
    {
        if (prompt.Urgency == Urgency.Alarm)
        {
            turn.Shut();
            return Play(prompt, AlarmTone.BeforeSpeech) && Play(prompt, synthesiser.Speak(prompt.Text));
        }

        var speech = synthesiser.Speak(prompt.Text);
        turn.Shut();
        echo?.Sounds(prompt, speech);
        return Play(prompt, speech);
    }

    // False when it was cut off.
    private bool Play(Prompt prompt, short[] samples)
    {
        for (var at = 0; at < samples.Length; at += AudioFormat.PlaySamples)
        {
            lock (gate)
            {
                if (soundingIsStale || line.Next > prompt.Urgency)
                {
                    return false;
                }
            }

            if (end.IsCancellationRequested)
            {
                return false;
            }

            loudspeaker.Play(samples.AsSpan(at, Math.Min(AudioFormat.PlaySamples, samples.Length - at)));
        }

        return true;
    }

    private void CutOff(Prompt prompt)
    {
        PromptReceipt? receipt;
        lock (gate)
        {
            receipt = soundingIsStale ? new PromptReceipt(prompt.Id, false, "stale")
                : prompt.Urgency == Urgency.TimeCall ? new PromptReceipt(prompt.Id, false, "cut off")
                : line.Add(prompt, clock.Now());
            sounding = null;
        }

        Post(receipt is null ? [] : [receipt]);
    }

    private void Ended()
    {
        lock (gate)
        {
            sounding = null;
        }
    }

    private void Post(IEnumerable<PromptReceipt> receipts)
    {
        foreach (var receipt in receipts)
        {
            inbox.Post(receipt);
        }
    }
}
