using System.Globalization;

namespace Companion.Journal.Tests.Support;

/// <summary>How much a test does: little on every run, much when an environment variable asks for it.</summary>
public static class Scale
{
    public static int Of(string variable, int otherwise) =>
        Environment.GetEnvironmentVariable(variable) is { Length: > 0 } text ? int.Parse(text, CultureInfo.InvariantCulture) : otherwise;
}
