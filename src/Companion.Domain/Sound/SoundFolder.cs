namespace Companion.Domain.Sound;

/// <summary>Where recorded sound lies: a folder for each job in the store's folder `sound`, and in it one file for each part.</summary>
public static class SoundFolder
{
    /// <summary>The folder's name in a store.</summary>
    public const string Name = "sound";

    /// <summary>How the name of a whole part ends.</summary>
    public const string WholePart = ".wav";

    /// <summary>How the name of a part ends that is being recorded, or was when the machine or the app stopped.</summary>
    public const string OpenPart = ".part";

    /// <summary>The folder of all sound of a store.</summary>
    public static string Of(string store) => Path.Combine(store, Name);

    /// <summary>The folder of one job's sound.</summary>
    public static string Of(string store, string job) => Path.Combine(Of(store), job);

    /// <summary>True for a plain name, of a job or of a part: no text from a record may lead to another folder.</summary>
    public static bool IsPlainName(string name) => name.Length is > 0 and <= 128 && name[0] != '.' && name.All(letter => char.IsAsciiLetterOrDigit(letter) || letter is '-' or '_' or '.');
}
