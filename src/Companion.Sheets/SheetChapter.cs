using System.Collections.Immutable;

namespace Companion.Sheets;

/// <summary>A part of a sheet in words, for print and screen alike.</summary>
/// <param name="Title">What it is about.</param>
/// <param name="Rows">Its lines.</param>
public sealed record SheetChapter(string Title, ImmutableArray<SheetRow> Rows);

/// <summary>One line of a part.</summary>
/// <param name="Name">What the line is about; empty when it goes on about the one before.</param>
/// <param name="Text">The words.</param>
public sealed record SheetRow(string Name, string Text);
