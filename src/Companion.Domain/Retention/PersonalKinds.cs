using System.Collections.Frozen;

namespace Companion.Domain.Retention;

/// <summary>Of which kind a personal member of an entry is. What is not named here is free text, which is kept the shortest. Pure; any thread.</summary>
public static class PersonalKinds
{
    private static readonly FrozenDictionary<string, PersonalKind> ByMember = new Dictionary<string, PersonalKind>
    {
        ["name"] = PersonalKind.Names,
        ["technician"] = PersonalKind.Names,
        ["secondperson"] = PersonalKind.Names,
        ["person"] = PersonalKind.Names,
        ["by"] = PersonalKind.Names,
        ["orderedby"] = PersonalKind.Names,
        ["subject"] = PersonalKind.Names,
        ["target"] = PersonalKind.Names,
        ["place"] = PersonalKind.Places,
        ["kind"] = PersonalKind.Alerts,
        ["quiet"] = PersonalKind.Alerts,
        ["detail"] = PersonalKind.Alerts,
        ["alert"] = PersonalKind.Alerts,
        ["id"] = PersonalKind.Alerts,
    }.ToFrozenDictionary();

    /// <summary>The kind of a member.</summary>
    public static PersonalKind Of(string member) => ByMember.GetValueOrDefault(member, PersonalKind.Heard);
}
