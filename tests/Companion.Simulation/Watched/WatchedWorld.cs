using System.Security.Cryptography;
using System.Text;
using Companion.Domain.Time;
using Companion.Simulation.Worlds;
using Companion.TestKit.Judging;

namespace Companion.Simulation.Watched;

/// <summary>Several tablets, their watch room and the network between. Everything that reaches either side is followed by every check.</summary>
internal sealed class WatchedWorld(WatchedPlan plan, Tally tally) : IDisposable
{
    private static readonly Ticks BetweenRounds = Ticks.OfSeconds(4);
    private const int RoundsToHeal = 12;

    private readonly Surroundings _all = new(plan, tally);
    private readonly People _people = new(plan.Chaos);

    /// <summary>Lives the whole plan; returns a hash of what both sides have at its end.</summary>
    public string Live()
    {
        _all.Start();
        for (var step = 0; step < plan.Steps; step++)
        {
            tally.Step = step;
            if (!plan.Skipped.Contains(step))
            {
                Step(step);
            }
        }

        Heal();
        tally.Entries += _all.Tablets.Sum(tablet => tablet.Witness.Memory.Acknowledged.Count);
        tally.Alerts += _all.Referee.Alerts.Alerts.Count;
        return Hash();
    }

    /// <inheritdoc/>
    public void Dispose() => _all.Dispose();

    private void Step(int step)
    {
        var chance = plan.Chance(step, 0);
        _all.Link.Chance = plan.Chance(step, 1);
        var tablet = _all.Tablets[chance.Next(_all.Tablets.Count)];
        tally.Trace?.Invoke($"step {step} at {_all.Now.Seconds} s: {tablet.Device} {tablet.Doing}{(_all.IsRoomThere ? "" : ", no watch room")}");
        if (chance.Next(100) < plan.Faults)
        {
            new Mishaps(_all, tally).Strike(plan.Chance(step, 2));
        }
        else
        {
            _people.Act(tablet, plan.Chance(step, 3));
        }

        TakeAny(plan.Chance(step, 4));
        if (tablet.IsRunning && chance.Next(10) < 7)
        {
            tablet.SendBeat();
        }

        if (tablet.IsRunning && chance.Next(10) < 5)
        {
            tablet.SendEntries();
        }

        _all.Pass(SpanOf(plan.Chance(step, 5)));
        _all.Referee.Look();
    }

    /// <summary>Mostly some seconds, sometimes a while, sometimes to just about the next deadline of the watch room.</summary>
    private Ticks SpanOf(Random chance) => chance.Next(10) switch
    {
        < 6 => Ticks.OfMilliseconds(chance.Next(200, 8_000)),
        < 9 => Ticks.OfMilliseconds(chance.Next(8_000, 40_000)),
        _ => _all.NextAlert is { } next && next > _all.Now ? next - _all.Now + Ticks.OfMilliseconds(chance.Next(0, 3000)) : Ticks.OfSeconds(1),
    };

    /// <summary>In the watch room somebody takes an alert now and then.</summary>
    private void TakeAny(Random chance)
    {
        var open = _all.Referee.Alerts.Alerts.Where(alert => !alert.IsTaken && alert.Id is not null).ToList();
        if (_all.IsRoomThere && open.Count > 0 && chance.Next(4) == 0)
        {
            _all.Referee.Take(open[chance.Next(open.Count)]);
        }
    }

    /// <summary>The end: everybody is there again, and everything arrives.</summary>
    private void Heal()
    {
        _all.HealLink();
        while (!_all.IsWhole)
        {
            _all.Pass(BetweenRounds);
        }

        for (var round = 1; round < RoundsToHeal && !Sent(); round++)
        {
            _all.Pass(BetweenRounds);
        }

        _all.Referee.Look();
        foreach (var tablet in _all.Tablets)
        {
            Oracle.Claim(HasArrived(tablet), $"prefix: the link is whole, and entries of {tablet.Device} do not arrive: {tablet.Trouble}");
            Oracle.Claim(_all.Referee.Alerts.HasCalls(tablet.Device, tablet.Witness), $"I11: the link is whole, and a call of {tablet.Device} did not arrive");
        }
    }

    /// <summary>Everybody sends; true when there is nothing more.</summary>
    private bool Sent()
    {
        foreach (var tablet in _all.Tablets)
        {
            tablet.SendBeat();
            tablet.SendEntries();
        }

        return _all.Tablets.All(HasArrived);
    }

    private bool HasArrived(LinkedTablet tablet)
    {
        tablet.Refresh();
        return ChainJudge.HasAll(tablet, _all.Room.Receiver!);
    }

    private string Hash()
    {
        var text = new StringBuilder(_all.Room.Head);
        foreach (var tablet in _all.Tablets)
        {
            text.Append(tablet.Witness.Memory.Acknowledged is [.., var last] ? last.Hash : "-");
        }

        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())));
    }
}
