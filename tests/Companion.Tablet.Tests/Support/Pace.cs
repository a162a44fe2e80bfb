namespace Companion.Tablet.Tests.Support;

/// <summary>Tests that promise no seconds run beside those that only compute; the others have the processor to themselves.</summary>
internal static class Pace
{
    /// <summary>Name of the trait.</summary>
    public const string Name = "Pace";

    /// <summary>Right on a busy machine too.</summary>
    public const string Unhurried = "unhurried";
}
