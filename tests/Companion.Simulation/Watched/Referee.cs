using System.Globalization;
using System.Text.Json;
using Companion.Contracts.Uplink;
using Companion.TestKit.Judging;

namespace Companion.Simulation.Watched;

/// <summary>Stands where letters leave and arrive, and has every judge look at them.</summary>
internal sealed class Referee(WatchRoom room, TimeProvider time, IReadOnlyList<LinkedTablet> tablets)
{
    private readonly ChainJudge _chains = new();
    private readonly Dictionary<(int Tablet, string Path), long> _letIn = [];

    /// <summary>Who foretells the alerts.</summary>
    public RoomJudge Alerts { get; } = new();

    /// <summary>A letter leaves its tablet.</summary>
    public void Sent(Letter letter)
    {
        if (letter.Path == UplinkFormat.BeatPath)
        {
            Of(letter).Witness.Tells(Read<Beat>(letter.Body));
        }
    }

    /// <summary>A letter reaches the watch room.</summary>
    public Reply Arrived(Letter letter)
    {
        var reply = room.Ask(letter);
        if (reply.Status != 200)
        {
            return reply;
        }

        LetInOnce(letter);
        if (letter.Path == UplinkFormat.BeatPath)
        {
            Alerts.Kept(Of(letter).Device, Read<Beat>(letter.Body), Read<BeatAnswer>(reply.Body), time.GetUtcNow(), room.Keeper!.View);
        }
        else
        {
            _chains.Promised(Of(letter).Device, Read<BatchAnswer>(reply.Body));
        }

        return reply;
    }

    /// <summary>The watch room started.</summary>
    public void Started()
    {
        Alerts.Restarted(time.GetUtcNow(), room.Keeper!.View);
        Look();
    }

    /// <summary>The watch room looks at its deadlines.</summary>
    public void Pulse()
    {
        room.Pulse();
        Alerts.Looked(time.GetUtcNow(), room.Keeper!.View);
    }

    /// <summary>In the watch room somebody takes an alert.</summary>
    public void Take(OwedAlert alert)
    {
        Oracle.Claim(room.Keeper!.TakeAsync(alert.Id!, "Runa Holt", "I call.").AsTask().GetAwaiter().GetResult(), $"I11: an alert cannot be taken: {alert}");
        Alerts.Taken(alert, time.GetUtcNow(), room.Keeper.View);
    }

    /// <summary>Looks at all that the watch room holds of the tablets' journals.</summary>
    public void Look()
    {
        if (room.Receiver is { } receiver)
        {
            foreach (var tablet in tablets)
            {
                _chains.Look(tablet, receiver);
            }
        }
    }

    /// <summary>What was let in before, or was sent before what was let in, must not be let in: it says nothing of now.</summary>
    private void LetInOnce(Letter letter)
    {
        var (key, number) = ((letter.Tablet, letter.Path), long.Parse(letter.Headers[UplinkFormat.CounterHeader], CultureInfo.InvariantCulture));
        Oracle.Claim(number > _letIn.GetValueOrDefault(key), $"I11: an old request of tablet {letter.Tablet} is let in to {letter.Path}");
        _letIn[key] = number;
    }

    private LinkedTablet Of(Letter letter) => tablets[letter.Tablet - 1];

    private static T Read<T>(byte[] body) => JsonSerializer.Deserialize<T>(body, UplinkFormat.Json)!;
}
