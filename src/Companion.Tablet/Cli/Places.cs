namespace Companion.Tablet.Cli;

/// <summary>Where the project's own files lie: beside the published app, or in the checkout.</summary>
public static class Places
{
    /// <summary>The folder that holds <c>assets</c> and <c>seeds</c>. The start script names it in COMPANION_HOME.</summary>
    public static string Home { get; } = Environment.GetEnvironmentVariable("COMPANION_HOME") ?? Search();

    /// <summary>Fonts, sounds, the ear's model.</summary>
    public static string Assets => Path.Combine(Home, "assets");

    /// <summary>Sheets, kits, crew and rehearsals: the invented ones unless COMPANION_DATA names others.</summary>
    public static string Data => Environment.GetEnvironmentVariable("COMPANION_DATA") ?? Path.Combine(Home, "seeds");

    /// <summary>The default store of real jobs.</summary>
    public static string Store => Path.Combine(
        Environment.GetEnvironmentVariable("XDG_DATA_HOME") is { Length: > 0 } data
            ? data
            : Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.UserProfile), ".local", "share"),
        "companion");

    /// <summary>The folder of a store into which sheets are imported.</summary>
    public static string ImportedSheets(string store) => Path.Combine(store, "sheets");

    /// <summary>The sheets that a store offers: those imported into it, and only those; until there are any, those of <see cref="Data"/>.</summary>
    public static string Sheets(string store) =>
        Directory.Exists(ImportedSheets(store)) ? ImportedSheets(store) : Path.Combine(Data, "sheets");

    private static string Search()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (Directory.Exists(Path.Combine(folder.FullName, "assets")) && Directory.Exists(Path.Combine(folder.FullName, "seeds")))
            {
                return folder.FullName;
            }
        }

        return AppContext.BaseDirectory;
    }
}
