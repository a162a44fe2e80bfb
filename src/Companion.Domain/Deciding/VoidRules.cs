using System.Collections.Immutable;
using Companion.Domain.Events;
using Companion.Domain.Isolation;
using Companion.Domain.Sheets;

namespace Companion.Domain.Deciding;

/// <summary>How waits, proofs and clear to work are lost (I5, I16: losing is quick).</summary>
internal static class VoidRules
{
    /// <summary>A disturbance voids every wait and proof that it touches and the points that it undoes.</summary>
    public static void Disturb(Turn turn, Disturbance what)
    {
        if (turn.Job.Way is not { } way)
        {
            turn.Add(new DisturbanceReported(what, [], []));
            return;
        }

        var rule = way.Sheet.Disturbances.FirstOrDefault(candidate => candidate.What == what);
        ImmutableArray<CircuitId> circuits = rule is null || rule.Circuits.IsDefaultOrEmpty
            ? [.. way.Sheet.Circuits.Select(circuit => circuit.Id)]
            : rule.Circuits;
        ImmutableArray<PointId> points = rule is null || rule.Points.IsDefaultOrEmpty
            ? [.. way.Sheet.Points.Where(point => circuits.Any(point.Feeds)).Select(point => point.Id)]
            : rule.Points;
        var touched = Touched(way.Sheet, circuits, points);
        VoidEverythingOn(turn, touched.Contains, Words(what));
        VoidNamed(turn, points, Words(what));
        turn.Add(new DisturbanceReported(what, touched, points));
    }

    /// <summary>A point that is undone feeds its circuits again, also those that the sheet's rule does not list: they are touched too.</summary>
    private static ImmutableArray<CircuitId> Touched(Sheet sheet, ImmutableArray<CircuitId> circuits, ImmutableArray<PointId> points) =>
    [
        .. sheet.Circuits.Select(circuit => circuit.Id).Where(circuit => circuits.Contains(circuit)
            || sheet.Points.Any(point => points.Contains(point.Id) && point.Feeds(circuit))),
    ];

    /// <summary>A place that is named for a point proves its opening too, whatever circuits the place covers.</summary>
    private static void VoidNamed(Turn turn, ImmutableArray<PointId> undone, string reason)
    {
        bool IsNamed(TestPlace place) => !place.Points.IsDefaultOrEmpty && undone.Any(place.Points.Contains);
        VoidProofs(turn, IsNamed, reason);
        if (turn.Job.Test is { } test && IsNamed(PlaceOf(turn.Job, test.Place)))
        {
            AbandonTest(turn, reason);
        }
    }

    /// <summary>Voids the waits, proofs, running test and clear to work of the circuits.</summary>
    public static void VoidEverythingOn(Turn turn, Func<CircuitId, bool> touched, string reason)
    {
        VoidWaits(turn, touched, reason);
        VoidProofs(turn, place => Touches(turn.Job, place, touched), reason);
        if (turn.Job.Test is { } test && Touches(turn.Job, PlaceOf(turn.Job, test.Place), touched))
        {
            AbandonTest(turn, reason);
        }

        Lapse(turn, reason);
    }

    /// <summary>Voids the waits of the circuits, running or over.</summary>
    public static void VoidWaits(Turn turn, Func<CircuitId, bool> touched, string reason)
    {
        foreach (var run in turn.Job.Waits.Values.Where(run => touched(run.Rule.Circuit)).OrderBy(run => run.StartedAt).ToList())
        {
            turn.Add(new WaitVoided(run.Rule.Id, run.Rule.Circuit, reason));
        }
    }

    /// <summary>Voids the proofs of the places that fit.</summary>
    public static void VoidProofs(Turn turn, Func<TestPlace, bool> fits, string reason)
    {
        var places = turn.Job.Proofs.OrderBy(proof => proof.Value.At).Select(proof => PlaceOf(turn.Job, proof.Key)).Where(fits).ToList();
        foreach (var place in places)
        {
            turn.Add(new ProofVoided(place.Id, reason));
        }
    }

    /// <summary>Discards the dead test in progress with all its readings.</summary>
    public static void AbandonTest(Turn turn, string reason)
    {
        if (turn.Job.Test is { } test)
        {
            turn.Add(new ProofVoided(test.Place, reason));
        }
    }

    /// <summary>Stops the work: nothing that was proved counts any more.</summary>
    public static void StopWork(Turn turn, string why, string reason, bool final)
    {
        VoidProofs(turn, _ => true, why);
        AbandonTest(turn, why);
        Lapse(turn, why);
        turn.Add(new WorkStopped(reason, final));
    }

    /// <summary>Ends clear to work, if it was given.</summary>
    public static void Lapse(Turn turn, string reason)
    {
        if (turn.Job.Clearance is not null)
        {
            turn.Add(new WorkLapsed(reason));
        }
    }

    /// <summary>A disturbance in spoken words.</summary>
    public static string Words(Disturbance what) => what switch
    {
        Disturbance.KeyOn => "key on",
        Disturbance.EngineStarted => "engine started",
        Disturbance.LowVoltRestored => "twelve volt restored",
        Disturbance.VehicleWoke => "vehicle woke",
        Disturbance.PlugRefitted => "plug refitted",
        Disturbance.ChargerConnected => "charger connected",
        Disturbance.WheelsTurned => "wheels turned",
        Disturbance.VehicleTowed => "vehicle towed",
        _ => "not watched",
    };

    private static bool Touches(Job job, TestPlace place, Func<CircuitId, bool> touched) =>
        job.Sheet!.Circuits.Any(circuit => place.Covers(circuit.Id) && touched(circuit.Id));

    private static TestPlace PlaceOf(Job job, TestPlaceId id) => job.Sheet!.TestPlaces.First(place => place.Id == id);
}
