using Companion.Voice.Ear;

namespace Companion.Voice.Tests.Support;

/// <summary>The repository's assets, as the tests find them.</summary>
public static class Assets
{
    public static string Folder { get; } = Find();

    public static string Ear => Path.Combine(Folder, "ear");

    public static Lexicon Lexicon { get; } = Lexicon.Load(Path.Combine(Folder, "lexicon", "lexicon.txt"));

    private static string Find()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "Companion.sln")))
            {
                return Path.Combine(folder.FullName, "assets");
            }
        }

        throw new InvalidOperationException("The tests do not run inside the repository.");
    }
}
