namespace Companion.Sheets.Files;

/// <summary>The line on which each path of a file stands. Paths look like "waits[1].circuit".</summary>
internal sealed class LineMap
{
    private readonly Dictionary<string, int> lines = [];

    public void Set(string path, int line) => lines[path] = line;

    /// <summary>The line of the path, or of the nearest thing around it that is in the file.</summary>
    public int LineOf(string path)
    {
        var part = path;
        while (true)
        {
            if (lines.TryGetValue(part, out var line))
            {
                return line;
            }

            if (part.Length == 0)
            {
                return 1;
            }

            part = part[..Math.Max(0, part.LastIndexOfAny(['.', '[']))];
        }
    }
}
