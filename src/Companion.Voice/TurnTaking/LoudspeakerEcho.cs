using Companion.Engine.Ports;
using Companion.Voice.Audio;

namespace Companion.Voice.TurnTaking;

/// <summary>
/// Notices at the sound check whether the microphone hears the loudspeaker: the loudness of what it hears must rise and fall with the
/// prompt's. If it does not and nobody answers, a warning is given; with a headset that is as it should be, so nothing is refused for it.
/// Safe for many threads.
/// </summary>
public sealed class LoudspeakerEcho
{
    /// <summary>The name in notices.</summary>
    public const string Device = "loudspeaker sound";

    // Pearson's correlation of the two loudnesses, chosen halfway between none and the same.
    private const double HeardFrom = 0.5;

    // Loudspeaker, room and microphone together delay by less than a second.
    private const int MostDelayFrames = AudioFormat.SampleRate / AudioFormat.FrameSamples;

    // One and a half seconds: whoever begins to answer in that time has heard the prompt.
    private const int AnswerFrames = MostDelayFrames * 3 / 2;

    private readonly IInbox inbox;
    private readonly Lock gate = new();
    private readonly List<float> heard = [];
    private float[] played = [];
    private int? framesLeft;
    private bool warned;

    /// <summary>Tells the given inbox.</summary>
    public LoudspeakerEcho(IInbox inbox) => this.inbox = inbox;

    /// <summary>A prompt begins to sound.</summary>
    public void Sounds(Prompt prompt, short[] speech)
    {
        ArgumentNullException.ThrowIfNull(prompt);
        lock (gate)
        {
            Clear();
            if (prompt.IsSoundCheck)
            {
                played = [.. speech.Chunk(AudioFormat.FrameSamples).Select(frame => Loudness(frame.Select(sample => sample / 32768f)))];
            }
            else if (prompt.Question != 0)
            {
                // Something else is asked: the sound check has been answered, the prompt was heard.
                Tell(false, "The sound check is over.");
            }
        }
    }

    /// <summary>The prompt has sounded to its end.</summary>
    public void Sounded()
    {
        lock (gate)
        {
            framesLeft = AnswerFrames;
        }
    }

    /// <summary>The prompt was not played to its end, or sound of the microphone is missing: nothing can be said.</summary>
    public void Forget()
    {
        lock (gate)
        {
            Clear();
        }
    }

    /// <summary>The microphone's next frame.</summary>
    public void Hear(ReadOnlySpan<float> frame, bool somebodySpeaks)
    {
        lock (gate)
        {
            if (played.Length == 0)
            {
                return;
            }

            if (heard.Count < played.Length + MostDelayFrames)
            {
                heard.Add(Loudness(frame.ToArray()));
            }

            if (somebodySpeaks)
            {
                Clear();
            }
            else if (framesLeft is { } left && --framesLeft == 0)
            {
                Judge();
            }
        }
    }

    private static float Loudness(IEnumerable<float> frame) => MathF.Sqrt(frame.Average(sample => sample * sample));

    private void Judge()
    {
        var likeness = Enumerable.Range(0, Math.Max(1, heard.Count - played.Length)).Max(Correlation);
        if (likeness < HeardFrom)
        {
            Tell(true, "The microphone does not hear the loudspeaker. If you use the loudspeaker, turn it up.");
        }
        else
        {
            Tell(false, "The microphone hears the loudspeaker.");
        }

        Clear();
    }

    private double Correlation(int delay)
    {
        var count = Math.Min(played.Length, heard.Count - delay);
        var there = played.Take(count).Average();
        var here = heard.Skip(delay).Take(count).Average();
        double product = 0, power = 0, powerHere = 0;
        for (var n = 0; n < count; n++)
        {
            var (a, b) = (played[n] - there, heard[n + delay] - here);
            product += a * b;
            power += a * a;
            powerHere += b * b;
        }

        return power * powerHere > 0 ? product / Math.Sqrt(power * powerHere) : 0;
    }

    private void Tell(bool warning, string detail)
    {
        if (warning != warned)
        {
            warned = warning;
            inbox.Post(new DeviceNotice(Device, !warning, detail));
        }
    }

    private void Clear()
    {
        played = [];
        heard.Clear();
        framesLeft = null;
    }
}
