using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Companion.Contracts.Uplink;
using Companion.Domain.Time;
using Companion.Simulation.Worlds;
using Companion.TestKit;
using Companion.TestKit.Judging;

namespace Companion.Simulation.Watched;

/// <summary>Several tablets, their watch room and the network between. Everything that reaches either side is followed by every check.</summary>
internal sealed class WatchedWorld : IDisposable
{
    private static readonly Ticks MostBetween = Ticks.OfSeconds(4);
    private static readonly Ticks BetweenBeats = Ticks.OfSeconds(20);
    private static readonly Ticks Moment = Ticks.OfMilliseconds(1);
    private const int StormyTrouble = 70;
    private const int RoundsToHeal = 12;

    private readonly WatchedPlan _plan;
    private readonly Tally _tally;
    private readonly string _folder = Directory.CreateTempSubdirectory("companion-watched-").FullName;
    private readonly List<LinkedTablet> _tablets = [];
    private readonly Dictionary<LinkedTablet, (bool Reboots, TimeSpan Wall)> _returns = [];
    private readonly Dictionary<int, Ticks> _cutUntil = [];
    private readonly Dictionary<(int Tablet, string Path), long> _letIn = [];
    private readonly StandingTime _roomTime;
    private readonly WatchRoom _room;
    private readonly RoomJudge _judge = new();
    private readonly ChainJudge _chains = new();
    private readonly Link _link;
    private readonly Mishaps _mishaps;
    private readonly People _people;
    private Ticks _now = Ticks.OfSeconds(1000);
    private Ticks? _roomBack;
    private bool _roomAsleep;
    private Ticks _stormUntil;
    private bool _isHealed;

    public WatchedWorld(WatchedPlan plan, Tally tally)
    {
        (_plan, _tally) = (plan, tally);
        _roomTime = new StandingTime(DemoTime.Start, () => _now);
        _room = new WatchRoom(Made("room"), _roomTime, plan.Seed);
        _link = new Link(() => _now, tally.Struck) { Sent = Sent, Deliver = Deliver };
        _mishaps = new Mishaps(this, tally);
        _people = new People(plan.Chaos);
        for (var number = 1; number <= plan.Tablets; number++)
        {
            _tablets.Add(new LinkedTablet(number, plan.Seed, Made($"tablet-{number}"), _link, () => _now));
            _room.Pair(_tablets[^1].Introduction());
        }
    }

    /// <summary>The tablets.</summary>
    public IReadOnlyList<LinkedTablet> Tablets => _tablets;

    private bool IsRoomThere => _room.Keeper is not null && !_roomAsleep;

    /// <summary>Lives the whole plan; returns a hash of what both sides have at its end.</summary>
    public string Live()
    {
        StartRoom();
        _tablets.ForEach(tablet => tablet.Start());
        for (var step = 0; step < _plan.Steps; step++)
        {
            _tally.Step = step;
            if (!_plan.Skipped.Contains(step))
            {
                Step(step);
            }
        }

        Heal();
        return Hash();
    }

    /// <summary>Tablets reach nothing for a while.</summary>
    public void CutOff(IEnumerable<LinkedTablet> tablets, Ticks span)
    {
        foreach (var tablet in tablets)
        {
            _link.CutOff.Add(tablet.Number);
            _cutUntil[tablet.Number] = _now + span;
        }
    }

    /// <summary>The link is bad for a while.</summary>
    public void Storm(Ticks span) => _stormUntil = _now + span;

    /// <summary>The watch room's process dies, or its power goes.</summary>
    public void RoomGoes(Ticks span, Random? cut)
    {
        if (!IsRoomThere)
        {
            return;
        }

        if (cut is null)
        {
            _room.Kill();
        }
        else
        {
            _room.CutPower(cut);
        }

        _roomBack = _now + span;
    }

    /// <summary>The watch room's machine takes nothing up for a while, not even its own pulse.</summary>
    public void RoomSleeps(Ticks span)
    {
        if (IsRoomThere)
        {
            (_roomAsleep, _roomBack) = (true, _now + span);
        }
    }

    /// <summary>A tablet's process dies, or its power goes.</summary>
    public void TabletGoes(LinkedTablet tablet, Ticks span, Random? cut, TimeSpan wall)
    {
        if (tablet.IsRunning)
        {
            tablet.GoOff(_now + span, cut);
            _returns[tablet] = (cut is not null, wall);
        }
    }

    /// <summary>A tablet sleeps.</summary>
    public void TabletSleeps(LinkedTablet tablet, Ticks span)
    {
        if (tablet.IsRunning)
        {
            tablet.Sleep(_now + span);
            _returns[tablet] = default;
        }
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _tablets.ForEach(tablet => tablet.Dispose());
        _room.Dispose();
        Directory.Delete(_folder, recursive: true);
    }

    private void Step(int step)
    {
        var chance = _plan.Chance(step, 0);
        _link.Chance = _plan.Chance(step, 1);
        var tablet = _tablets[chance.Next(_tablets.Count)];
        _tally.Trace?.Invoke($"step {step} at {_now.Seconds} s: {tablet.Device} {(tablet.IsRunning ? tablet.Inner.Engine?.Snapshot.Job?.Question?.Need.Kind.ToString() ?? "no job" : "away")}{(IsRoomThere ? "" : ", no watch room")}");
        if (chance.Next(100) < _plan.Faults)
        {
            _mishaps.Strike(_plan.Chance(step, 2));
        }
        else
        {
            _people.Act(tablet, _plan.Chance(step, 3));
        }

        Answer(_plan.Chance(step, 4));
        if (tablet.IsRunning && chance.Next(10) < 7)
        {
            tablet.SendBeat();
        }

        if (tablet.IsRunning && chance.Next(10) < 5)
        {
            tablet.SendEntries();
        }

        Pass(SpanOf(_plan.Chance(step, 5)));
        Look();
    }

    /// <summary>Mostly some seconds, sometimes a while, sometimes to just about the next deadline of the watch room.</summary>
    private Ticks SpanOf(Random chance) => chance.Next(10) switch
    {
        < 6 => Ticks.OfMilliseconds(chance.Next(200, 8_000)),
        < 9 => Ticks.OfMilliseconds(chance.Next(8_000, 40_000)),
        _ => _judge.Next is { } next && RoomTicks(next) > _now && RoomTicks(next) - _now < Ticks.OfSeconds(200)
            ? RoomTicks(next) - _now + Ticks.OfMilliseconds(chance.Next(0, 3000))
            : Ticks.OfSeconds(1),
    };

    /// <summary>In the watch room somebody takes an alert now and then.</summary>
    private void Answer(Random chance)
    {
        var open = _judge.Alerts.Where(alert => !alert.IsTaken && alert.Id is not null).ToList();
        if (IsRoomThere && open.Count > 0 && chance.Next(4) == 0)
        {
            var alert = open[chance.Next(open.Count)];
            Oracle.Claim(_room.Keeper!.TakeAsync(alert.Id!, "Runa Holt", "I call.").AsTask().GetAwaiter().GetResult(), $"I11: an alert cannot be taken: {alert}");
            _judge.Taken(alert, _roomTime.GetUtcNow(), _room.Keeper.View);
        }
    }

    private void Pass(Ticks span)
    {
        var end = _now + span;
        while (_now < end)
        {
            Advance(new[] { end, _now + MostBetween, NextStop() }.Min() - _now);
        }
    }

    /// <summary>Nothing that may matter lies between two stops: just before a deadline of the watch room is one, and so is the deadline.</summary>
    private Ticks NextStop()
    {
        var stops = _tablets.Where(tablet => tablet.IsRunning).Select(tablet => tablet.NextBeat)
            .Concat(_tablets.Select(tablet => tablet.AwayUntil).Append(_roomBack).Append(_link.Next).OfType<Ticks>());
        if (_judge.Next is { } next)
        {
            stops = stops.Append(RoomTicks(next)).Append(RoomTicks(next) - Moment);
        }

        return stops.Where(stop => stop > _now).DefaultIfEmpty(_now + MostBetween).Min();
    }

    private void Advance(Ticks span)
    {
        _now += span;
        _tablets.ForEach(tablet => tablet.Pass(span));
        ComeBack();
        _link.Trouble = _isHealed ? 0 : _now < _stormUntil ? StormyTrouble : _plan.Faults;
        _link.Arrive();
        foreach (var tablet in _tablets.Where(tablet => tablet.IsRunning))
        {
            tablet.Turn();
            if (_now >= tablet.NextBeat)
            {
                tablet.NextBeat = _now + BetweenBeats;
                tablet.SendBeat();
                if (_link.Chance.Next(2) == 0)
                {
                    tablet.SendEntries();
                }
            }
        }

        if (IsRoomThere)
        {
            _room.Pulse();
            _judge.Looked(_roomTime.GetUtcNow(), _room.Keeper!.View);
        }
    }

    /// <summary>What was away and is due comes back.</summary>
    private void ComeBack()
    {
        foreach (var (number, _) in _cutUntil.Where(cut => cut.Value <= _now).ToList())
        {
            _cutUntil.Remove(number);
            _link.CutOff.Remove(number);
        }

        foreach (var tablet in _tablets.Where(tablet => tablet.AwayUntil <= _now))
        {
            tablet.ComeBack(_returns[tablet].Reboots, _returns[tablet].Wall);
        }

        if (_roomBack <= _now)
        {
            _roomBack = null;
            if (_roomAsleep)
            {
                _roomAsleep = false;
            }
            else
            {
                StartRoom();
            }
        }
    }

    private void StartRoom()
    {
        _room.Start();
        _judge.Restarted(_roomTime.GetUtcNow(), _room.Keeper!.View);
        Look();
    }

    private void Sent(Letter letter)
    {
        if (letter.Path == UplinkFormat.BeatPath)
        {
            _tablets[letter.Tablet - 1].Witness.Tells(Read<Beat>(letter.Body));
        }
    }

    private Reply? Deliver(Letter letter)
    {
        if (!IsRoomThere)
        {
            return null;
        }

        var reply = _room.Ask(letter);
        if (reply.Status == 200)
        {
            LetInOnce(letter);
            var device = _tablets[letter.Tablet - 1].Device;
            if (letter.Path == UplinkFormat.BeatPath)
            {
                _judge.Kept(device, Read<Beat>(letter.Body), Read<BeatAnswer>(reply.Body), _roomTime.GetUtcNow(), _room.Keeper!.View);
            }
            else
            {
                _chains.Promised(device, Read<BatchAnswer>(reply.Body));
            }
        }

        return reply;
    }

    /// <summary>What was let in before, or was sent before what was let in, must not be let in: it says nothing of now.</summary>
    private void LetInOnce(Letter letter)
    {
        var (key, number) = ((letter.Tablet, letter.Path), long.Parse(letter.Headers[UplinkFormat.CounterHeader], CultureInfo.InvariantCulture));
        Oracle.Claim(number > _letIn.GetValueOrDefault(key), $"I11: an old request of tablet {letter.Tablet} is let in to {letter.Path}");
        _letIn[key] = number;
    }

    private void Look()
    {
        if (_room.Receiver is { } receiver)
        {
            _tablets.ForEach(tablet => _chains.Look(tablet, receiver));
        }
    }

    /// <summary>The end: everything is there again, and everything arrives.</summary>
    private void Heal()
    {
        _isHealed = true;
        _link.CutOff.Clear();
        while (_roomBack is not null || _tablets.Exists(tablet => !tablet.IsRunning) || _link.Next is not null)
        {
            Advance(MostBetween);
        }

        for (var round = 1; round <= RoundsToHeal; round++)
        {
            foreach (var tablet in _tablets)
            {
                tablet.SendBeat();
                tablet.SendEntries();
            }

            if (_tablets.TrueForAll(HasArrived))
            {
                break;
            }

            Advance(MostBetween);
        }

        Look();
        foreach (var tablet in _tablets)
        {
            Oracle.Claim(HasArrived(tablet), $"prefix: the link is whole, and entries of {tablet.Device} do not arrive: {tablet.Trouble}");
            Oracle.Claim(_judge.HasCalls(tablet.Device, tablet.Witness), $"I11: the link is whole, and a call of {tablet.Device} did not arrive");
        }

        _tally.Entries += _tablets.Sum(tablet => tablet.Witness.Memory.Acknowledged.Count);
        _tally.Alerts += _judge.Alerts.Count;
    }

    private bool HasArrived(LinkedTablet tablet)
    {
        tablet.Refresh();
        return ChainJudge.HasAll(tablet, _room.Receiver!);
    }

    private string Hash()
    {
        var text = new StringBuilder(_room.Head);
        foreach (var tablet in _tablets)
        {
            text.Append(tablet.Witness.Memory.Acknowledged is [.., var last] ? last.Hash : "-");
        }

        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())));
    }

    private Ticks RoomTicks(DateTimeOffset time) => new((time - DemoTime.Start).Ticks * 100);

    private string Made(string name) => Directory.CreateDirectory(Path.Combine(_folder, name)).FullName;

    private static T Read<T>(byte[] body) => JsonSerializer.Deserialize<T>(body, UplinkFormat.Json)!;
}
