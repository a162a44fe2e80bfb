using System.Globalization;
using System.Text.Json;
using Companion.Contracts.Uplink;
using Companion.Domain.Time;
using Companion.TestKit.Judging;

namespace Companion.Simulation.Watched;

/// <summary>Stands where letters leave and arrive, and has every judge look at them.</summary>
internal sealed class Referee(WatchRoom room, Func<Ticks> now, IReadOnlyList<LinkedTablet> tablets)
{
    private const int Ok = 200;
    private const int NotStored = 503;

    private readonly ChainJudge _chains = new();
    private readonly Dictionary<(int Tablet, string Path), long> _letIn = [];
    private (Ticks At, int Boots) _lastLook;

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
        if (reply.Status is not (Ok or NotStored))
        {
            return reply;
        }

        LetInOnce(letter);
        var isTaken = reply.Status == Ok;
        if (letter.Path == UplinkFormat.BeatPath)
        {
            Alerts.Beaten(Of(letter).Device, Read<Beat>(letter.Body), isTaken ? Read<BeatAnswer>(reply.Body) : null, LookAtBoard());
        }
        else if (isTaken)
        {
            _chains.Promised(Of(letter).Device, Read<BatchAnswer>(reply.Body));
        }

        return reply;
    }

    /// <summary>The watch room started.</summary>
    public void Started()
    {
        var (at, boots) = _lastLook;
        Alerts.Restarted(LookAtBoard(), boots == room.Boots ? TimeSpan.FromTicks((now() - at).Nanoseconds / 100) : null);
        Look();
    }

    /// <summary>The watch room could not start.</summary>
    public void CouldNotStart() => Alerts.CouldNotStart(room.Time.GetUtcNow());

    /// <summary>The watch room looks at its deadlines.</summary>
    public void Pulse()
    {
        var isRecorded = room.Pulse();
        Alerts.Looked(isRecorded, LookAtBoard());
    }

    /// <summary>In the watch room somebody takes an alert.</summary>
    public void Take(OwedAlert alert)
    {
        var taken = room.Take(alert.Id!);
        Oracle.Claim(taken != false, $"I11: an alert cannot be taken: {alert}");
        Alerts.Taken(alert, taken is not null, LookAtBoard());
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

    private RoomLook LookAtBoard()
    {
        _lastLook = (now(), room.Boots);
        return new RoomLook(room.Time.GetUtcNow(), room.Keeper!.View, room.Keeper.Fault, room.HasAiled);
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
