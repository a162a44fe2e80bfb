namespace Companion.Domain;

/// <summary>Names a thing of a shutdown sheet or a kit list. Ids of different things cannot be mixed up.</summary>
public interface ITextId
{
    /// <summary>The id as the sheet writes it: a-z, 0-9 and hyphen.</summary>
    string Value { get; }
}

/// <summary>An isolation point.</summary>
public readonly record struct PointId(string Value) : ITextId
{
    public override string ToString() => Value;
}

/// <summary>A circuit: what stays charged, armed or awake together.</summary>
public readonly record struct CircuitId(string Value) : ITextId
{
    public override string ToString() => Value;
}

/// <summary>A wait.</summary>
public readonly record struct WaitId(string Value) : ITextId
{
    public override string ToString() => Value;
}

/// <summary>A test place.</summary>
public readonly record struct TestPlaceId(string Value) : ITextId
{
    public override string ToString() => Value;
}

/// <summary>A pair of probe contacts at a test place.</summary>
public readonly record struct PairId(string Value) : ITextId
{
    public override string ToString() => Value;
}

/// <summary>A step of a sheet's ordered list.</summary>
public readonly record struct StepId(string Value) : ITextId
{
    public override string ToString() => Value;
}

/// <summary>A way through a sheet: the main one or an alternative.</summary>
public readonly record struct WayId(string Value) : ITextId
{
    /// <summary>The sheet's own list of steps.</summary>
    public static readonly WayId Main = new("main");

    public override string ToString() => Value;
}

/// <summary>An item of the arrival list.</summary>
public readonly record struct ArrivalItemId(string Value) : ITextId
{
    public override string ToString() => Value;
}

/// <summary>A piece of equipment.</summary>
public readonly record struct KitId(string Value) : ITextId
{
    public override string ToString() => Value;
}
