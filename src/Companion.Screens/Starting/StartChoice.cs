namespace Companion.Screens.Starting;

/// <summary>What has been chosen on the start screen so far.</summary>
/// <param name="Technician">Id of the technician; null until chosen.</param>
/// <param name="SecondPerson">Id of the second person, empty when alone; null until chosen.</param>
/// <param name="Kit">Id of the kit; null until chosen.</param>
public sealed record StartChoice(string? Technician, string? SecondPerson, string? Kit)
{
    /// <summary>Nothing chosen.</summary>
    public static readonly StartChoice None = new(null, null, null);

    /// <summary>Most characters of a place.</summary>
    public const int MostPlace = 120;

    /// <summary>Where the job is, as typed: road, marker, landmark. May stay empty.</summary>
    public string Place { get; init; } = string.Empty;

    /// <summary>True for another vehicle of the same event as the job that ended last on this tablet.</summary>
    public bool SameEvent { get; init; }

    /// <summary>What is still to be chosen; null when nothing is.</summary>
    public string? Missing => Technician is null ? "Choose the technician"
        : SecondPerson is null ? "Choose the second person, or alone"
        : Kit is null ? "Choose the kit"
        : null;

    /// <summary>The technician chosen: somebody who was the second person is no longer.</summary>
    public StartChoice WithTechnician(string id) => this with { Technician = id, SecondPerson = SecondPerson == id ? null : SecondPerson };
}
