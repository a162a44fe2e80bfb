using System.Text.Json.Nodes;

namespace Companion.Engine.Codec.Upcasting;

/// <summary>
/// One step from a version of the format to the next. It works on a copy of what was read: stored bytes never change, and their hash was checked
/// as they were written. Personal texts lie under their member's name outside the data, so a step leaves their names alone. Pure; any thread.
/// </summary>
public interface IUpcaster
{
    /// <summary>The version that it takes; it gives the next.</summary>
    int From { get; }

    /// <summary>Changes the data of an entry of this type to what the next version would have written.</summary>
    /// <param name="type">The entry's type.</param>
    /// <param name="data">Its data, to be changed in place.</param>
    void Raise(string type, JsonObject data);
}
