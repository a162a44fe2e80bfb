namespace Companion.Journal.Tests.Support;

/// <summary>A folder that goes away with the test.</summary>
public sealed class TemporaryFolder : IDisposable
{
    public string Path { get; } = Directory.CreateTempSubdirectory("companion-journal-").FullName;

    public void Dispose() => Directory.Delete(Path, recursive: true);
}
