using System.Globalization;

namespace Companion.Engine.Codec.Upcasting;

/// <summary>
/// The versions of the journal's format, as the attribute `dataschema` names them. Raise <see cref="Newest"/>, and give <see cref="Upcasters.Usual"/>
/// the step from the version before, whenever the data of an entry would no longer be read as it was meant. A member that may be left out needs no
/// new version: so far there was nothing but such members. Pure; any thread.
/// </summary>
public static class EntryFormat
{
    /// <summary>The version that is written, and the newest that is read.</summary>
    public const int Newest = 1;

    private const string Family = "urn:companion:journal:";

    /// <summary>How a version is written.</summary>
    public static string NameOf(int version) => Family + version.ToString(CultureInfo.InvariantCulture);

    /// <summary>The version that a name stands for; null when it is no version of this format.</summary>
    public static int? VersionOf(string name) =>
        name.StartsWith(Family, StringComparison.Ordinal)
        && int.TryParse(name.AsSpan(Family.Length), NumberStyles.None, CultureInfo.InvariantCulture, out var version)
        && version > 0 && NameOf(version) == name
            ? version
            : null;

    /// <summary>Why a version later than the newest is not read, and what to do.</summary>
    public static string TooNew(int version, int newest = Newest) => string.Create(
        CultureInfo.InvariantCulture, $"made by a newer Companion, version {version} of the format; this one reads up to {newest}. Update this machine");
}
