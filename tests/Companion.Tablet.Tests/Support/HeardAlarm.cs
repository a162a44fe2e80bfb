using Companion.Tablet.Watchdog;

namespace Companion.Tablet.Tests.Support;

/// <summary>An alarm that counts, and notes when it first sounded.</summary>
internal sealed class HeardAlarm : IAlarm
{
    public int Sounded { get; private set; }

    public int Silenced { get; private set; }

    public DateTimeOffset First { get; private set; }

    public void Sound()
    {
        First = Sounded == 0 ? DateTimeOffset.UtcNow : First;
        Sounded++;
    }

    public void Silence() => Silenced++;
}
