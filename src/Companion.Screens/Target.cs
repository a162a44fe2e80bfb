namespace Companion.Screens;

/// <summary>Names of what can be touched, as the page carries them: a kind, and a detail behind a colon.</summary>
public static class Target
{
    /// <summary>The usual answer.</summary>
    public const string Primary = "primary";

    /// <summary>The other answer.</summary>
    public const string Second = "second";

    /// <summary>Stop.</summary>
    public const string Third = "third";

    /// <summary>Open the job that was put together on the start screen.</summary>
    public const string Open = "open";

    /// <summary>A phrase of its own: "say:KeyOn".</summary>
    public const string Say = "say";

    /// <summary>A key of the keypad: "key:7".</summary>
    public const string Key = "key";

    /// <summary>A sheet of the list: "sheet:2".</summary>
    public const string Sheet = "sheet";

    /// <summary>A technician: "technician:maren".</summary>
    public const string Technician = "technician";

    /// <summary>A second person; without a detail, alone.</summary>
    public const string SecondPerson = "secondperson";

    /// <summary>A kit: "kit:standard".</summary>
    public const string Kit = "kit";

    /// <summary>Another vehicle of the same event, or not.</summary>
    public const string SameEvent = "sameevent";

    /// <summary>A panel is opened or closed: "panel:changed".</summary>
    public const string Panel = "panel";

    /// <summary>The panel for who is there and who works.</summary>
    public const string People = "people";

    /// <summary>Kind and detail of a target.</summary>
    public static (string Kind, string Detail) Split(string target)
    {
        var colon = target.IndexOf(':', StringComparison.Ordinal);
        return colon < 0 ? (target, string.Empty) : (target[..colon], target[(colon + 1)..]);
    }

    /// <summary>A target from kind and detail.</summary>
    public static string Of(string kind, string detail) => $"{kind}:{detail}";
}
