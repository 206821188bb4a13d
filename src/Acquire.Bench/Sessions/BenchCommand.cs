namespace Acquire.Bench.Sessions;

/// <summary>What the user may do beside the instrument's own key.</summary>
public abstract record BenchCommand
{
    private BenchCommand()
    {
    }

    /// <summary>Take the last step back.</summary>
    public sealed record Undo : BenchCommand;

    /// <summary>Read the patch again from its first read.</summary>
    public sealed record ReadPatchAgain : BenchCommand;

    /// <summary>Leave out the last read.</summary>
    public sealed record LeaveOutRead(string Reason) : BenchCommand;

    /// <summary>Leave out the patch that comes next.</summary>
    public sealed record LeaveOutPatch(string Reason) : BenchCommand;

    /// <summary>The strip is complete; keep it.</summary>
    public sealed record Keep : BenchCommand;

    /// <summary>Stop; every line stays in the store.</summary>
    public sealed record Cancel : BenchCommand;
}
