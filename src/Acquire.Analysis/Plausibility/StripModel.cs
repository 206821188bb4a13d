namespace Acquire.Analysis.Plausibility;

/// <summary>The strip as it should be: its aims as one vector, and what the process may do to them.</summary>
internal sealed class StripModel
{
    private readonly Dictionary<(int Slot, Channel Channel), int> _index;

    public StripModel(StripKnowledge knowledge)
    {
        Knowledge = knowledge;
        Patches = knowledge.Layout.Patches;
        Cells =
        [
            .. from slot in Enumerable.Range(0, Patches.Length)
               from channel in knowledge.Sheet.ChannelsNeeded
               let aim = knowledge.Aim(Patches[slot].Key, channel)
               where aim is not null
               select new ModelCell(slot, Patches[slot].Key, channel, aim),
        ];
        _index = Cells.Select((c, i) => (c, i)).ToDictionary(c => (c.c.Slot, c.c.Channel), c => c.i);
        Aims = [.. Cells.Select(c => c.Aim.Value)];
        States = Cells.IsEmpty ? [] : ProcessStates.Of(this);
    }

    public StripKnowledge Knowledge { get; }

    /// <summary>The patches of the layout; the index of a patch is its slot.</summary>
    public ImmutableArray<Patch> Patches { get; }

    /// <summary>Every patch and channel that has an aim.</summary>
    public ImmutableArray<ModelCell> Cells { get; }

    /// <summary>The aims of the cells.</summary>
    public double[] Aims { get; }

    /// <summary>What the process may be doing.</summary>
    public ImmutableArray<ProcessState> States { get; }

    /// <summary>Index of a cell; null when it has no aim.</summary>
    public int? Find(int slot, Channel channel) => _index.TryGetValue((slot, channel), out var index) ? index : null;

    /// <summary>The aim of a cell, in density; 0 when it has none.</summary>
    public double AimOf(DataCell cell) => Find(cell.Slot, cell.Channel) is { } index ? Aims[index] : 0;

    /// <summary>Slots that have an aim, in order.</summary>
    public IEnumerable<int> Slots => Cells.Select(c => c.Slot).Distinct();
}

/// <summary>One patch and channel of the strip.</summary>
internal sealed record ModelCell(int Slot, string PatchKey, Channel Channel, Aim Aim);
