namespace Companion.Domain.Arrival;

/// <summary>What an item of the arrival list settles. A list that may be used covers every one of them but <see cref="Other"/>.</summary>
public enum Concern
{
    /// <summary>Traffic: own vehicle, lights, barrier, signs.</summary>
    Traffic,

    /// <summary>Bystanders, owner and passengers are away.</summary>
    People,

    /// <summary>Fire, smoke, vapour, sparks, hissing, popping or gurgling.</summary>
    Fire,

    /// <summary>A pack that is burnt, torn open or leaking.</summary>
    Pack,

    /// <summary>A pack that stood in water.</summary>
    Water,

    /// <summary>A place where gas can gather.</summary>
    Enclosed,

    /// <summary>A heavy blow to the vehicle.</summary>
    Impact,

    /// <summary>An orange cable that is bare or damaged.</summary>
    OrangeCable,

    /// <summary>Airbags that have fired, so that others may still be armed.</summary>
    Airbags,

    /// <summary>A charging cable that is attached.</summary>
    ChargingCable,

    /// <summary>The vehicle is switched off and its READY light is out.</summary>
    Ready,

    /// <summary>Rain or snow on the place of work: a detector is outside its scope there (EN 61243-3).</summary>
    Rain,

    /// <summary>Any other source: second supply battery, jump pack, back-feed, solar panel.</summary>
    OtherSource,

    /// <summary>A pacemaker or another implant of who goes near.</summary>
    Implant,

    /// <summary>Rings, watches, chains.</summary>
    Jewellery,

    /// <summary>What must be done while the supply battery still works: boot and window open, brake, chocks.</summary>
    BeforeLowVolt,

    /// <summary>Whatever local rules add.</summary>
    Other,
}
