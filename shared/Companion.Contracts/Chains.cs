namespace Companion.Contracts;

/// <summary>Names of chains that are not jobs.</summary>
public static class Chains
{
    /// <summary>Entries outside any job, and the heads of all job chains.</summary>
    public const string Tablet = "tablet";
}
