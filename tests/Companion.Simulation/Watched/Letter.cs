namespace Companion.Simulation.Watched;

/// <summary>A request of a tablet as it goes over the wire.</summary>
/// <param name="Tablet">The number of the tablet.</param>
/// <param name="Path">Its path.</param>
/// <param name="Headers">Its headers.</param>
/// <param name="ContentType">Of what its body is.</param>
/// <param name="Body">Its body.</param>
internal sealed record Letter(int Tablet, string Path, IReadOnlyDictionary<string, string> Headers, string ContentType, byte[] Body);

/// <summary>What came back.</summary>
/// <param name="Status">The status.</param>
/// <param name="ContentType">Of what its body claims to be.</param>
/// <param name="Body">Its body.</param>
internal sealed record Reply(int Status, string ContentType, byte[] Body);
