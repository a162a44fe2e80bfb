using System.Diagnostics.CodeAnalysis;
using Xunit.Sdk;

namespace Companion.Domain.Tests.Properties;

/// <summary>How the oracle objects.</summary>
internal static class Oracle
{
    /// <summary>Fails the test with the number of the invariant.</summary>
    public static void Claim([DoesNotReturnIf(false)] bool holds, string what)
    {
        if (!holds)
        {
            throw new XunitException(what);
        }
    }
}
