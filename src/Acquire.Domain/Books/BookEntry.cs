namespace Acquire.Domain.Books;

/// <summary>When something happened, when it was entered, and by whom. The two times differ where an entry is dated back.</summary>
public sealed record EntryStamp
{
    /// <exception cref="ImpossibleValueException">Nobody is named.</exception>
    public EntryStamp(Guid id, DateTimeOffset happenedAt, DateTimeOffset enteredAt, string by)
    {
        (Id, HappenedAt, EnteredAt) = (id, happenedAt, enteredAt);
        By = Guard.Text(by, "The person of an entry");
    }

    /// <summary>UUID v7 of the entry.</summary>
    public Guid Id { get; }

    public DateTimeOffset HappenedAt { get; }

    /// <summary>When it was entered, by the clock of the computer.</summary>
    public DateTimeOffset EnteredAt { get; }

    public string By { get; }
}

/// <summary>One entry in the books. Entries are never changed; a wrong one is withdrawn and entered anew.</summary>
public abstract record BookEntry
{
    private protected BookEntry(EntryStamp stamp) => Stamp = stamp;

    public EntryStamp Stamp { get; init; }

    /// <summary>A note of the user's.</summary>
    public string? Note { get; init; }

    /// <summary>UUID v7.</summary>
    public Guid Id => Stamp.Id;

    public DateTimeOffset HappenedAt => Stamp.HappenedAt;

    /// <summary>The entries without which this one means nothing.</summary>
    public virtual ImmutableArray<Guid> RefersTo => [];
}

/// <summary>Takes an entry back. Both stay in the books; the one withdrawn counts no more.</summary>
public sealed record Withdrawal : BookEntry
{
    /// <exception cref="ImpossibleValueException">No reason is given.</exception>
    public Withdrawal(EntryStamp stamp, Guid withdrawnId, string reason)
        : base(stamp)
    {
        WithdrawnId = withdrawnId;
        Reason = Guard.Text(reason, "The reason of a withdrawal");
    }

    /// <summary>The entry that counts no more.</summary>
    public Guid WithdrawnId { get; }

    public string Reason { get; }

    /// <inheritdoc/>
    public override ImmutableArray<Guid> RefersTo => [WithdrawnId];
}

/// <summary>What kind of event belongs on the charts.</summary>
public enum BookEventKind
{
    /// <summary>Anything else.</summary>
    Other,

    NewMix,

    Repair,

    /// <summary>A temperature was put right.</summary>
    Temperature,

    /// <summary>Strips of another lot came into use.</summary>
    NewLot,

    Calibration,

    /// <summary>Nothing was processed for a while.</summary>
    Pause,
}

/// <summary>Something that happened to the process.</summary>
public sealed record BookEvent : BookEntry
{
    /// <exception cref="ImpossibleValueException">There is no text.</exception>
    public BookEvent(EntryStamp stamp, BookEventKind kind, string text, Guid? lineId = null, Guid? bottleId = null)
        : base(stamp)
    {
        (Kind, LineId, BottleId) = (kind, lineId, bottleId);
        Text = Guard.Text(text, "The text of an event");
    }

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
