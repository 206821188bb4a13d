using System.Text.Json.Serialization;

namespace Acquire.Bench.Sessions;

/// <summary>
/// What the user may do beside the instrument's own key. What changes the strip is a decision: it is in the journal, as JSON under the
/// word given here, before it is carried out. A word that is in a journal somewhere never changes.
/// </summary>
[JsonPolymorphic(TypeDiscriminatorPropertyName = "do")]
[JsonDerivedType(typeof(Undo), "undo")]
[JsonDerivedType(typeof(ReadPatchAgain), "read_patch_again")]
[JsonDerivedType(typeof(LeaveOutRead), "leave_out_read")]
[JsonDerivedType(typeof(LeaveOutPatch), "leave_out_patch")]
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

    /// <summary>The strip is complete; keep it. Its record says so, the journal does not.</summary>
    public sealed record Keep : BenchCommand;

    /// <summary>Stop; every line stays in the store. The session's end says so, the journal does not.</summary>
    public sealed record Cancel : BenchCommand;
}
