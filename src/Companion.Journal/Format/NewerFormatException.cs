using Companion.Engine.Codec.Upcasting;

namespace Companion.Journal.Format;

/// <summary>An entry is of a later version of the format than this program reads. That is no damage: a newer program reads it.</summary>
/// <param name="version">Its version.</param>
public sealed class NewerFormatException(int version) : FormatException($"The entry was {EntryFormat.TooNew(version)}.");
