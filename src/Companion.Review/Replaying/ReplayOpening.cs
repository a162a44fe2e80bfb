using Companion.Domain.Events;
using Companion.Screens.Starting;

namespace Companion.Review.Replaying;

/// <summary>The names that the screen shows, as far as the record still holds them. Nothing can be opened with it.</summary>
internal static class ReplayOpening
{
    public static JobOpening Of(RecordedJob record)
    {
        var opened = record.Entries is [{ Happened: JobOpened first }, ..] ? first : null;
        return new JobOpening(
            opened is null ? [] : [new CrewChoice(opened.Technician, opened.Name.Text ?? ReplayFold.Erased)],
            [],
            [],
            record.Rehearsal,
            default,
            default,
            () => string.Empty,
            () => default);
    }
}
