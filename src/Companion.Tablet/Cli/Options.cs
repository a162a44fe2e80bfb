namespace Companion.Tablet.Cli;

/// <summary>A command line: words, and options of the form "--name value".</summary>
public sealed class Options
{
    private readonly Dictionary<string, string> _named = [];
    private readonly List<string> _words = [];

    /// <summary>Parses arguments.</summary>
    /// <param name="arguments">The words after the verb.</param>
    /// <param name="flags">Options that stand alone.</param>
    /// <exception cref="UsageException">An option has no value.</exception>
    public Options(IReadOnlyList<string> arguments, params string[] flags)
    {
        for (var n = 0; n < arguments.Count; n++)
        {
            if (!arguments[n].StartsWith("--", StringComparison.Ordinal))
            {
                _words.Add(arguments[n]);
            }
            else if (flags.Contains(arguments[n]))
            {
                _named[arguments[n][2..]] = string.Empty;
            }
            else if (n + 1 < arguments.Count)
            {
                _named[arguments[n][2..]] = arguments[++n];
            }
            else
            {
                throw new UsageException($"{arguments[n]} needs a value after it.");
            }
        }
    }

    /// <summary>The words that are not options.</summary>
    public IReadOnlyList<string> Words => _words;

    /// <summary>The value of an option; null when it was not given.</summary>
    public string? this[string name] => _named.GetValueOrDefault(name);

    /// <summary>The value of an option that must be there.</summary>
    /// <exception cref="UsageException">It is not.</exception>
    public string Required(string name) => this[name] ?? throw new UsageException($"--{name} is needed.");

    /// <summary>Refuses options that the verb does not know.</summary>
    /// <exception cref="UsageException">There is one.</exception>
    public Options Only(params string[] names)
    {
        var unknown = _named.Keys.FirstOrDefault(name => !names.Contains(name));
        return unknown is null ? this : throw new UsageException($"--{unknown} is not an option here.");
    }
}

/// <summary>The command line is wrong; the message says how.</summary>
public sealed class UsageException(string message) : Exception(message);
