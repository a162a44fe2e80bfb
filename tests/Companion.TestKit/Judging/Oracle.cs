using System.Diagnostics.CodeAnalysis;

namespace Companion.TestKit.Judging;

/// <summary>How the oracle objects.</summary>
public static class Oracle
{
    /// <summary>Throws <see cref="InvariantBrokenException"/> with the number of the invariant.</summary>
    public static void Claim([DoesNotReturnIf(false)] bool holds, string what)
    {
        if (!holds)
        {
            throw new InvariantBrokenException(what);
        }
    }
}
