using Companion.Voice.Audio;

namespace Companion.Voice.Tests.Support;

/// <summary>Does something of the test's before every frame.</summary>
public sealed class HookedMicrophone(IMicrophone inner, Action beforeFrame) : IMicrophone
{
    public void Open() => inner.Open();

    public bool Read(Span<float> frame, CancellationToken cancellation)
    {
        beforeFrame();
        return inner.Read(frame, cancellation);
    }

    public void Dispose() => inner.Dispose();
}
