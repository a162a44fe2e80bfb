using System.Diagnostics.CodeAnalysis;
using Companion.Domain;
using Companion.Domain.Electrical;
using Companion.Domain.Events;
using Companion.Domain.Sheets;
using Companion.Domain.Time;

namespace Companion.TestKit.Judging;

/// <summary>The part of the oracle that judges dead tests by I3, from the log alone. It keeps the entries of the test that runs.</summary>
public sealed class TestLedger
{
    private readonly List<Witnessed> _entries = [];
    private TestPlaceId? _place;

    /// <summary>True while a test runs at a place.</summary>
    public bool RunsAt(TestPlaceId place) => _place == place;

    /// <summary>Forgets the test.</summary>
    public void Abandon()
    {
        _entries.Clear();
        _place = null;
    }

    /// <summary>Forgets the test at a place.</summary>
    public void Void(TestPlaceId place)
    {
        if (_place == place)
        {
            Abandon();
        }
    }

    /// <summary>Takes an entry that may belong to a test.</summary>
    public void Take(Witnessed entry, Sheet? sheet, Func<TestPlace, long> waitsEnded)
    {
        switch (entry.Event)
        {
            case TesterProved { Ok: true } proved:
                var place = sheet!.TestPlaces.First(candidate => candidate.Id == proved.TestPlace);
                Claim(waitsEnded(place) < entry.Sequence, "I3: the tester was proved before the waits ended");
                if (_place != proved.TestPlace)
                {
                    Claim(proved.Phase == ProvingPhase.Before, "I3: a test begins with the second proving");
                    Abandon();
                    _place = proved.TestPlace;
                }

                _entries.Add(entry);
                break;
            case ReadingTaken { Purpose: ReadingPurpose.DeadTest } taken:
                Claim(_place == taken.TestPlace, "I3: a reading without a test");
                Claim(_entries.All(one => one.Event is not TesterProved proving || proving.Tester == taken.Tester), "I3: a reading with a tester that was not proved");
                Claim(taken.Volts is null != (taken.Below is null), "I3: a reading is a number or below N");
                Claim(taken.Below is not { } below || taken.Kind == VoltageKind.Ac || below == Volts.Of(taken.Tester.Value == "tester" ? 6 : 3), "I3: below another tester's lowest");
                _entries.Add(entry);
                break;
            case ContactConfirmed:
                _entries.Add(entry);
                break;
        }
    }

    /// <summary>Judges the claim.</summary>
    public void Prove(DeadProved proved, TestPlace place, Sheet sheet, long waitsEnded, Witnessed claim)
    {
        Claim(_place == place.Id, "I3: proved dead without a test there");
        var readings = Readings(proved, place);
        var first = readings.Min(reading => reading.Sequence);
        var last = readings.Max(reading => reading.Sequence);
        var testers = readings.Select(reading => ((ReadingTaken)reading.Event).Tester).Distinct().ToList();
        Claim(testers.Count == 1, "I3: two testers");
        foreach (var kind in place.Pairs.Select(pair => pair.Kind).Distinct())
        {
            var before = Proving(ProvingPhase.Before, kind).FirstOrDefault();
            var after = Proving(ProvingPhase.After, kind).LastOrDefault();
            Claim(before is not null && before.Sequence < first && before.Sequence > waitsEnded, $"I3: not proved before the readings, {kind}");
            Claim(after is not null && after.Sequence > last, $"I3: not proved after the readings, {kind}");
            Claim(new[] { before!, after! }.All(one => ((TesterProved)one.Event).Tester == testers[0]), "I3: proved with another tester");
            Claim(new[] { before!, after! }.All(one => ((TesterProved)one.Event).Indicated.Magnitude is { Millivolts: >= 220_000 and <= 260_000 }), "I3: not the source");
        }

        var begun = _entries[0].Moment;
        Claim(begun.BootId == claim.Moment.BootId && (claim.Moment.Boot - begun.Boot).Nanoseconds <= place.WindowSeconds * Ticks.PerSecond, "I3: after the window");
        Judge(readings, place, sheet);
        Abandon();
    }

    private List<Witnessed> Readings(DeadProved proved, TestPlace place)
    {
        var readings = _entries.Where(entry => entry.Event is ReadingTaken && proved.Readings.Contains(entry.Sequence)).ToList();
        Claim(readings.Count == place.Pairs.Length && proved.Readings.Distinct().Count() == readings.Count, "I3: a pair without a reading of this test");
        foreach (var pair in place.Pairs)
        {
            Claim(readings.Count(reading => ((ReadingTaken)reading.Event).Pair == pair.Id && ((ReadingTaken)reading.Event).Kind == pair.Kind) == 1, $"I3: {pair.Id}");
        }

        return readings;
    }

    private void Judge(List<Witnessed> readings, TestPlace place, Sheet sheet)
    {
        var taken = readings.Select(reading => (ReadingTaken)reading.Event).ToList();
        foreach (var reading in taken)
        {
            var shown = (reading.Volts ?? reading.Below!.Value).Magnitude;
            Claim(shown <= place.Limit(reading.Kind), $"I3: {shown} V is live");
        }

        if (taken.All(reading => reading.Volts is { Millivolts: 0 }))
        {
            Claim(_entries.Any(entry => entry.Event is ContactConfirmed && entry.Sequence > readings.Max(one => one.Sequence)), "I3: all zero, bare metal not asked");
        }

        Claim(Kirchhoff(taken, place, sheet.FloorVolts.Millivolts), "I3: the readings do not fit together");
    }

    /// <summary>Some voltages within what was shown fit the sum or the difference. Searched in steps of half a volt: slow and plain.</summary>
    private static bool Kirchhoff(List<ReadingTaken> taken, TestPlace place, long floor)
    {
        IEnumerable<long> Within(PairRole role)
        {
            var pair = place.Pairs.FirstOrDefault(candidate => candidate.Role == role && candidate.Kind == VoltageKind.Dc);
            var reading = taken.FirstOrDefault(one => one.Pair == pair?.Id);
            return reading?.Volts is { } volts ? [volts.Magnitude.Millivolts]
                : reading?.Below is { } below ? Enumerable.Range(0, (int)(below.Millivolts / 500) + 1).Select(step => step * 500L)
                : [];
        }

        if (place.Pairs.All(pair => pair.Role == PairRole.Other))
        {
            return true;
        }

        return Within(PairRole.RailToRail).Any(rails => Within(PairRole.PositiveToChassis).Any(positive => Within(PairRole.NegativeToChassis).Any(negative =>
            Math.Abs(rails - positive - negative) <= floor || Math.Abs(rails - Math.Abs(positive - negative)) <= floor)));
    }

    private IEnumerable<Witnessed> Proving(ProvingPhase phase, VoltageKind kind) =>
        _entries.Where(entry => entry.Event is TesterProved proved && proved.Phase == phase && proved.Kind == kind);

    private static void Claim([DoesNotReturnIf(false)] bool holds, string what) => Oracle.Claim(holds, what);
}
