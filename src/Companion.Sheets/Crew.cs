using System.Collections.Immutable;

namespace Companion.Sheets;

/// <summary>Who may be named in a job.</summary>
/// <param name="Technicians">Those who may hold one.</param>
/// <param name="SecondPersons">Those who may stand by while live parts are exposed.</param>
public sealed record Crew(ImmutableArray<CrewMember> Technicians, ImmutableArray<CrewMember> SecondPersons);

/// <summary>A person.</summary>
/// <param name="Id">What the records call the person.</param>
/// <param name="Name">The spoken name.</param>
public sealed record CrewMember(string Id, string Name);
