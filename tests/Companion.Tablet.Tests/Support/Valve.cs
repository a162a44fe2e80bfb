namespace Companion.Tablet.Tests.Support;

/// <summary>Lets callers through, or keeps their threads, as a port that never returns does.</summary>
internal sealed class Valve
{
    private readonly ManualResetEventSlim _open = new(true);

    public void Pass() => _open.Wait();

    public void Close() => _open.Reset();

    public void Open() => _open.Set();
}
