namespace Companion.Domain.Retention;

/// <summary>Kinds of personal data, each kept as long as the operator says.</summary>
public enum PersonalKind
{
    /// <summary>Names of people.</summary>
    Names,

    /// <summary>What was heard or written in free words.</summary>
    Heard,

    /// <summary>Where a job was.</summary>
    Places,

    /// <summary>Of which kind an alert was, and whether a check-in was the quiet word.</summary>
    Alerts,

    /// <summary>Sound that was kept of a job.</summary>
    Recordings,
}
