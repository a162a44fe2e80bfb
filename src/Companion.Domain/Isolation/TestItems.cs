using Companion.Domain.Asking;
using Companion.Domain.Electrical;
using Companion.Domain.Sheets;

namespace Companion.Domain.Isolation;

/// <summary>The fixed order of a dead test (I3): prove the tester, every pair, prove the tester again, claim.</summary>
public static class TestItems
{
    /// <summary>Separates place and detail in the subject of a need.</summary>
    public const char Separator = ':';

    /// <summary>What the test at a step's place needs next.</summary>
    public static Need Next(Job job, Step step)
    {
        var place = PlaceOf(job, step);
        var test = job.Test?.Place == place.Id ? job.Test : null;
        foreach (var kind in Kinds(place))
        {
            if (test is null || !test.Before.Contains(kind))
            {
                return Proving(place, "before", kind);
            }
        }

        var pair = place.Pairs.FirstOrDefault(candidate => !test!.Readings.ContainsKey(candidate.Id));
        if (pair is not null)
        {
            return new Need(NeedKind.TakeReading, $"{place.Id}{Separator}{pair.Id}");
        }

        if (!test!.ContactConfirmed && test.Readings.Values.All(taken => taken.Reading.IsZero))
        {
            return new Need(NeedKind.ConfirmContact, place.Id.Value);
        }

        foreach (var kind in Kinds(place))
        {
            if (!test.After.Contains(kind))
            {
                return Proving(place, "after", kind);
            }
        }

        return new Need(NeedKind.ClaimDead, place.Id.Value);
    }

    /// <summary>The test place of a test step.</summary>
    public static TestPlace PlaceOf(Job job, Step step) => job.Sheet!.TestPlaces.First(place => place.Id == step.TestPlace);

    /// <summary>The test place that a need is about.</summary>
    public static TestPlace PlaceOf(Job job, Need need)
    {
        var id = new TestPlaceId(need.Subject.Split(Separator)[0]);
        return job.Sheet!.TestPlaces.First(place => place.Id == id);
    }

    /// <summary>The pair that a reading need is about.</summary>
    public static ProbePair PairOf(Job job, Need need)
    {
        var id = new PairId(need.Subject.Split(Separator)[1]);
        return PlaceOf(job, need).Pairs.First(pair => pair.Id == id);
    }

    /// <summary>The kinds that the tester must be proved on: those of the pairs, DC first.</summary>
    public static IEnumerable<VoltageKind> Kinds(TestPlace place) => place.Pairs.Select(pair => pair.Kind).Distinct().Order();

    private static Need Proving(TestPlace place, string phase, VoltageKind kind) =>
        new(NeedKind.ProveTester, $"{place.Id}{Separator}{phase}{Separator}{kind}");
}
