namespace Companion.Domain.Kit;

/// <summary>Kinds of equipment.</summary>
public enum KitKind
{
    /// <summary>Insulating gloves (EN 60903).</summary>
    Gloves,

    /// <summary>Leather protectors worn over the insulating gloves.</summary>
    Protectors,

    /// <summary>Insulating footwear (EN 50321-1).</summary>
    Footwear,

    /// <summary>Face shield or goggles.</summary>
    FaceProtection,

    /// <summary>Two-pole voltage tester (EN 61243-3).</summary>
    Tester,

    /// <summary>Known source on which the tester is proved.</summary>
    ProvingSource,

    /// <summary>Insulated hand tools (IEC 60900).</summary>
    Tools,

    /// <summary>Locks and tags.</summary>
    LocksAndTags,

    /// <summary>Barrier and signs.</summary>
    Barrier,

    /// <summary>Insulated hook to pull a casualty clear.</summary>
    RescueHook,

    /// <summary>First-aid kit.</summary>
    FirstAid,
}
