namespace Companion.Domain.Retention;

/// <summary>How many days each kind of personal data is kept after its job has ended. The times are the operator's, by its own law and need.</summary>
/// <param name="Names">Names.</param>
/// <param name="Heard">Heard and free text.</param>
/// <param name="Places">Places.</param>
/// <param name="Alerts">Kinds of alerts.</param>
/// <param name="Recordings">Recordings.</param>
public sealed record RetentionPolicy(int Names, int Heard, int Places, int Alerts, int Recordings)
{
    /// <summary>The longest time, in days: a hundred years of mistake are no policy.</summary>
    public const int MostDays = 36_500;

    /// <summary>Days that a kind is kept.</summary>
    public int DaysOf(PersonalKind kind) => kind switch
    {
        PersonalKind.Names => Names,
        PersonalKind.Heard => Heard,
        PersonalKind.Places => Places,
        PersonalKind.Alerts => Alerts,
        _ => Recordings,
    };

    /// <summary>True when what counts from then is to be erased now.</summary>
    public bool IsDue(PersonalKind kind, DateTimeOffset from, DateTimeOffset now) => now - from >= TimeSpan.FromDays(DaysOf(kind));
}
