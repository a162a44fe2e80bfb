namespace Companion.Tablet.Watchdog;

/// <summary>A sound that needs nothing of the app it watches over.</summary>
public interface IAlarm
{
    /// <summary>Sounds once; returns at once.</summary>
    void Sound();

    /// <summary>Ends the sound: the app answers again and speaks for itself.</summary>
    void Silence();
}
