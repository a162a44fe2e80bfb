namespace Companion.Tablet.Cli;

/// <summary>Verbs that a later issue builds.</summary>
public static class NotBuilt
{
    /// <summary>Says so, with exit code 3.</summary>
    public static Task<int> Run(Options options)
    {
        Console.Error.WriteLine("Not built yet.");
        return Task.FromResult(3);
    }
}
