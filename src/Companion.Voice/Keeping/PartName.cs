using System.Globalization;
using Companion.Domain.Sound;
using Companion.Domain.Time;

namespace Companion.Voice.Keeping;

/// <summary>The name of a part: it tells when the part began, so that one that was cut off by a kill can still be placed in time.</summary>
internal static class PartName
{
    /// <summary>The name without its end: CLOCK_BOOTTIME in nanoseconds, so that names sort by time, and the running period.</summary>
    public static string Of(Ticks from, string bootId) => string.Create(CultureInfo.InvariantCulture, $"{from.Nanoseconds:D19}_{bootId}");

    /// <summary>When a part of this name began; null for a name that was not made here.</summary>
    public static (Ticks From, string BootId)? Read(string name)
    {
        var stem = Path.GetFileNameWithoutExtension(name);
        var split = stem.IndexOf('_', StringComparison.Ordinal);
        return split > 0 && SoundFolder.IsPlainName(stem) && long.TryParse(stem[..split], NumberStyles.None, CultureInfo.InvariantCulture, out var from)
            ? (new Ticks(from), stem[(split + 1)..])
            : null;
    }
}
