using System.Globalization;

namespace Companion.Tablet.Watchdog;

/// <summary>
/// What tells one process from every other, also from a later one that got its number: the number, and when the process began, in the
/// kernel's ticks of this boot.
/// </summary>
public static class ProcessMark
{
    private const int StateField = 2;
    private const int BeginField = 21;

    /// <summary>The mark of a running process; null when there is none.</summary>
    public static string? Of(int process)
    {
        try
        {
            // The command's name, which may hold blanks and brackets, stands in brackets before the fields that count.
            var stat = File.ReadAllText($"/proc/{process}/stat");
            var fields = stat[(stat.LastIndexOf(')') + 2)..].Split(' ');
            var boot = File.ReadAllText("/proc/sys/kernel/random/boot_id").Trim();
            return fields[0] == "Z" ? null : string.Create(CultureInfo.InvariantCulture, $"{process} {fields[BeginField - StateField]} {boot}");
        }
        catch (Exception none) when (none is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }

    /// <summary>The number in a mark; null when it is none.</summary>
    public static int? NumberIn(string mark) =>
        int.TryParse(mark.Split(' ')[0], NumberStyles.None, CultureInfo.InvariantCulture, out var process) ? process : null;
}
