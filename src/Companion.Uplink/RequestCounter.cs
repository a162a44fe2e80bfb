using System.Globalization;

namespace Companion.Uplink;

/// <summary>
/// Numbers that only rise, across restarts and kills: a block is reserved on the disk before the first of it is used, and after a restart the next
/// block is begun. A watch room that wants a higher one is obeyed. When the disk takes no reservation the numbers go on without one, because a call for
/// help needs no disk: at worst the watch room refuses a repeated number after a restart and says which is next. Used by one thread at a time.
/// </summary>
public sealed class RequestCounter(string path)
{
    /// <summary>How many are reserved at once.</summary>
    public const long Block = 1000;

    /// <summary>No higher number is begun with, whoever asks: it is the largest that JSON carries exactly, and no tablet comes near it.</summary>
    public const long Most = 1L << 53;

    private long _last = Reserved(path);
    private long _reserved = -1;

    /// <summary>The next number.</summary>
    public long Next()
    {
        var next = _last + 1;
        if (next > _reserved)
        {
            var until = next + Block;
            try
            {
                DurableText.Write(path, until.ToString(CultureInfo.InvariantCulture));
                _reserved = until;
            }
            catch (Exception cause) when (cause is IOException or UnauthorizedAccessException)
            {
                // Asked of the disk again with the next number.
            }
        }

        return _last = next;
    }

    /// <summary>From now on at least this number; one above <see cref="Most"/> is not obeyed.</summary>
    public void AtLeast(long least) => _last = least > Most ? _last : Math.Max(_last, least - 1);

    private static long Reserved(string path)
    {
        try
        {
            return long.TryParse(DurableText.Read(path), NumberStyles.None, CultureInfo.InvariantCulture, out var reserved) && reserved <= Most ? reserved : 0;
        }
        catch (Exception cause) when (cause is IOException or UnauthorizedAccessException)
        {
            return 0;
        }
    }
}
