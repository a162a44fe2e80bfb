using Companion.Domain.Deciding;

namespace Companion.Screens.Starting;

/// <summary>Makes the command that opens a job.</summary>
public static class Opener
{
    /// <summary>The command; null while something is still to be chosen.</summary>
    /// <param name="opening">What may be chosen.</param>
    /// <param name="choice">What was.</param>
    /// <param name="before">The job that ended last on this tablet; null when there is none.</param>
    public static OpenJob? Open(JobOpening opening, StartChoice choice, string? before = null)
    {
        var technician = opening.Technicians.FirstOrDefault(person => person.Id == choice.Technician);
        var kit = opening.Kits.FirstOrDefault(list => list.Id == choice.Kit);
        if (choice.Missing is not null || technician is null || kit is null)
        {
            return null;
        }

        return new OpenJob(
            opening.NewJobId(),
            technician.Id,
            technician.Name,
            opening.SecondPersons.FirstOrDefault(person => person.Id == choice.SecondPerson)?.Name,
            opening.Rehearsal,
            opening.Policy,
            opening.Rating,
            kit.Items,
            opening.LatestWall())
        {
            Place = string.IsNullOrWhiteSpace(choice.Place) ? null : choice.Place.Trim(),
            Arrival = opening.Arrival,
            Watch = opening.Watch,
            HasWatchroom = opening.HasWatchroom,
            Sound = opening.Sound,
            Linked = choice.SameEvent ? before : null,
        };
    }
}
