"""OpenNGC's types of object in the words of this program."""

from nightmode.kinds import Kind

#: OpenNGC type -> kind. "Dup" is followed to the object it repeats; "Other" and "NonEx" have no kind.
KINDS = {
    "*": Kind.STAR,
    "**": Kind.DOUBLE,
    "Nova": Kind.STAR,
    "*Ass": Kind.OPEN_CLUSTER,
    "OCl": Kind.OPEN_CLUSTER,
    "GCl": Kind.GLOBULAR_CLUSTER,
    "Cl+N": Kind.CLUSTER_NEBULA,
    "G": Kind.GALAXY,
    "GPair": Kind.GALAXY_GROUP,
    "GTrpl": Kind.GALAXY_GROUP,
    "GGroup": Kind.GALAXY_GROUP,
    "PN": Kind.PLANETARY_NEBULA,
    "HII": Kind.EMISSION_NEBULA,
    "EmN": Kind.EMISSION_NEBULA,
    "RfN": Kind.REFLECTION_NEBULA,
    "DrkN": Kind.DARK_NEBULA,
    "SNR": Kind.SUPERNOVA_REMNANT,
    "Neb": Kind.NEBULA,
}
