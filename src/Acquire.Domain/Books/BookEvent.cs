namespace Acquire.Domain.Books;

/// <summary>What kind of event belongs on the charts.</summary>
public enum BookEventKind
{
    /// <summary>Anything else.</summary>
    Other,

    /// <summary>A new mix came into use.</summary>
    NewMix,

    /// <summary>Something was repaired.</summary>
    Repair,

    /// <summary>A temperature was put right.</summary>
    Temperature,

    /// <summary>Strips of another lot came into use.</summary>
    NewLot,

    /// <summary>An instrument was calibrated.</summary>
    Calibration,

    /// <summary>Nothing was processed for a while.</summary>
    Pause,
}

/// <summary>Something that happened to the process.</summary>
public sealed record BookEvent : BookEntry
{
    /// <summary>States an event.</summary>
    /// <exception cref="ImpossibleValueException">There is no text.</exception>
    public BookEvent(EntryStamp stamp, BookEventKind kind, string text, Guid? lineId = null, Guid? bottleId = null)
        : base(stamp)
    {
        (Kind, LineId, BottleId) = (kind, lineId, bottleId);
        Text = Guard.Text(text, "The text of an event");
    }

    /// <summary>What kind.</summary>
    public BookEventKind Kind { get; }

    /// <summary>What happened, in the user's words.</summary>
    public string Text { get; }

    /// <summary>The line it concerns; null when it concerns all or none.</summary>
    public Guid? LineId { get; }

    /// <summary>The bottle it concerns; null when it concerns none.</summary>
    public Guid? BottleId { get; }

    /// <inheritdoc/>
    public override ImmutableArray<Guid> RefersTo => [.. new[] { LineId, BottleId }.OfType<Guid>()];
}
