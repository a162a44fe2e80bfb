namespace Companion.Simulation.Endurance;

/// <summary>How long and how hard.</summary>
/// <param name="Hours">Simulated hours.</param>
/// <param name="Waits">Waits that run at once.</param>
/// <param name="Utterances">Things said in all.</param>
/// <param name="PulsesPerSecond">How often the loop is woken, and the screens are turned, in a simulated second.</param>
/// <param name="Screens">Screens that are watched.</param>
public sealed record LongLoad(int Hours, int Waits, int Utterances, int PulsesPerSecond, int Screens)
{
    /// <summary>A day with fifty waits and twenty thousand utterances.</summary>
    public static readonly LongLoad Day = new(24, 50, 20_000, 1, 1);

    /// <summary>A working day at full load: the tablet's own pulse, two screens at its pace, something said every two seconds.</summary>
    public static readonly LongLoad FullLoad = new(8, 4, 14_400, 10, 2);
}
