namespace Companion.Domain.Sheets;

/// <summary>Something in a sheet that cannot be right, with what to do about it.</summary>
/// <param name="Path">Where: "waits[1].circuit", with the names that the file uses.</param>
/// <param name="Message">What is wrong and how to mend it.</param>
public sealed record SheetFault(string Path, string Message);
