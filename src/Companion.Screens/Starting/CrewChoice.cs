namespace Companion.Screens.Starting;

/// <summary>A person who can be chosen on the start screen.</summary>
/// <param name="Id">What the records call the person.</param>
/// <param name="Name">The name.</param>
public sealed record CrewChoice(string Id, string Name);
