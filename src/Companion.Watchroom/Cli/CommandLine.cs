namespace Companion.Watchroom.Cli;

/// <summary>A command line: words, and options of the form "--name value".</summary>
internal sealed class CommandLine
{
    private readonly Dictionary<string, string> named = [];
    private readonly List<string> words = [];

    public CommandLine(IReadOnlyList<string> arguments)
    {
        for (var n = 0; n < arguments.Count; n++)
        {
            if (!arguments[n].StartsWith("--", StringComparison.Ordinal))
            {
                words.Add(arguments[n]);
            }
            else if (n + 1 < arguments.Count)
            {
                named[arguments[n][2..]] = arguments[++n];
            }
            else
            {
                throw new UsageException($"{arguments[n]} needs a value after it.");
            }
        }
    }

    /// <summary>The words that are not options.</summary>
    public IReadOnlyList<string> Words => words;

    /// <summary>The value of an option; null when it was not given.</summary>
    public string? this[string name] => named.GetValueOrDefault(name);

    /// <summary>Refuses options that the verb does not know.</summary>
    public void Only(params string[] names)
    {
        if (named.Keys.FirstOrDefault(name => !names.Contains(name)) is { } unknown)
        {
            throw new UsageException($"--{unknown} is not an option here.");
        }
    }
}

/// <summary>The command line is wrong; the message says how.</summary>
internal sealed class UsageException(string message) : Exception(message);
