package x3d

import "strings"

// kind says what a node means to the study.
type kind uint8

const (
	unknown      kind = iota // no node of the standards: perhaps it holds some
	inert                    // a node of the standards that moves and places nothing
	group                    // holds children without placing them
	transform                // places its children
	joint                    // HAnimJoint: a transform that turns about its center
	humanoid                 // HAnimHumanoid: a figure
	segment                  // HAnimSegment: a group below a joint
	site                     // HAnimSite: a place on a segment
	displacer                // HAnimDisplacer: a shape weight
	choice                   // Switch: shows one child
	levels                   // LOD: shows one child by distance
	viewpoint                // a camera
	orthoView                // OrthoViewpoint
	light                    // a light with a location
	timeSensor               // the clock
	position                 // PositionInterpolator: three numbers a key
	orientation              // OrientationInterpolator: axis and angle
	scalar                   // ScalarInterpolator: one number
	splinePos                // SplinePositionInterpolator
	splineScalar             // SplineScalarInterpolator
	squad                    // SquadOrientationInterpolator
	inline                   // another file
	script                   // a program
	leftOut                  // moves things in ways that are not read
	foreign                  // places its children in ways that are not read
)

// places reports whether a node of the kind becomes a part or holds parts.
func (k kind) places() bool {
	return k >= group && k <= light && k != displacer || k == unknown || k == foreign
}

// interpolates reports whether a node of the kind is an interpolator we read.
func (k kind) interpolates() bool { return k >= position && k <= squad }

// placing are the fields of everything that has the transformation of a
// Transform.
const placing = "translation rotation scale scaleOrientation center"

// nodeType is what the package knows of a type of node: what it means and
// which of its fields are kept.
type nodeType struct {
	kind   kind
	fields []string
}

// nodeTypes are the types that matter. Joint, Humanoid and the like are the
// names that prototypes had in H-Anim 1.1, before the nodes existed.
var nodeTypes = makeTypes(
	typeRow{group, "", "Group StaticGroup Anchor Collision CADAssembly CADLayer CADPart LayerSet Layer LayoutGroup LayoutLayer ScreenGroup PickableGroup ViewpointGroup Scene"},
	typeRow{transform, placing, "Transform EspduTransform"},
	typeRow{joint, placing + " name", "HAnimJoint Joint"},
	typeRow{humanoid, placing + " name", "HAnimHumanoid Humanoid"},
	typeRow{segment, "name", "HAnimSegment Segment"},
	typeRow{site, placing + " name", "HAnimSite Site"},
	typeRow{displacer, "name weight", "HAnimDisplacer Displacer"},
	typeRow{choice, "whichChoice", "Switch"},
	typeRow{levels, "", "LOD"},
	typeRow{viewpoint, "position orientation fieldOfView description", "Viewpoint"},
	typeRow{orthoView, "position orientation fieldOfView description", "OrthoViewpoint"},
	typeRow{light, "location", "PointLight SpotLight"},
	typeRow{timeSensor, "cycleInterval loop", "TimeSensor"},
	typeRow{position, "key keyValue", "PositionInterpolator"},
	typeRow{orientation, "key keyValue", "OrientationInterpolator"},
	typeRow{scalar, "key keyValue", "ScalarInterpolator"},
	typeRow{splinePos, "key keyValue keyVelocity closed normalizeVelocity", "SplinePositionInterpolator"},
	typeRow{splineScalar, "key keyValue keyVelocity closed normalizeVelocity", "SplineScalarInterpolator"},
	typeRow{squad, "key keyValue", "SquadOrientationInterpolator"},
	typeRow{inline, "url", "Inline"},
	typeRow{script, "", "Script"},
	typeRow{leftOut, "", "GeoViewpoint GeoPositionInterpolator CoordinateInterpolator CoordinateInterpolator2D PositionInterpolator2D SplinePositionInterpolator2D EaseInEaseOut Follower PositionDamper PositionChaser OrientationDamper OrientationChaser ScalarDamper ScalarChaser CoordinateDamper CoordinateChaser HAnimMotion NurbsPositionInterpolator NurbsOrientationInterpolator RigidBody RigidBodyCollection ParticleSystem"},
	typeRow{foreign, "", "Billboard GeoTransform GeoLocation GeoLOD"},
	typeRow{inert, "", inertTypes},
)

// inertTypes are the nodes of ISO/IEC 19775-1 and 14772-1 that neither move
// nor place anything, so that leaving them out needs no word.
const inertTypes = `
Appearance AudioClip Background Box Color ColorInterpolator Cone ContourPolyline2D Contour2D Coordinate
CylinderSensor Cylinder DirectionalLight ElevationGrid Extrusion Fog FontStyle ImageTexture IndexedFaceSet
IndexedLineSet Material MovieTexture NavigationInfo Normal NormalInterpolator PixelTexture PlaneSensor PointSet
ProximitySensor Shape Sound Sphere SphereSensor Text TextureCoordinate TextureTransform TouchSensor
VisibilitySensor WorldInfo
Arc2D ArcClose2D BooleanFilter BooleanSequencer BooleanToggle BooleanTrigger BoundedPhysicsModel CADFace
Circle2D ClipPlane ColorRGBA ComposedCubeMapTexture ComposedShader ComposedTexture3D CoordinateDouble
DISEntityManager DISEntityTypeMapping Disk2D EnvironmentTexture EnvironmentLight FillProperties FloatVertexAttribute
FogCoordinate FontLibrary GeneratedCubeMapTexture GeoCoordinate GeoElevationGrid GeoMetadata GeoOrigin
GeoProximitySensor GeoTouchSensor ImageCubeMapTexture ImageTexture3D IndexedQuadSet IndexedTriangleFanSet
IndexedTriangleSet IndexedTriangleStripSet IntegerSequencer IntegerTrigger KeySensor Layout LinePickSensor LineProperties
LineSensor LineSet LoadSensor LocalFog Matrix3VertexAttribute Matrix4VertexAttribute MetadataBoolean MetadataDouble
MetadataFloat MetadataInteger MetadataSet MetadataString MultiTexture MultiTextureCoordinate MultiTextureTransform
NurbsCurve NurbsCurve2D NurbsPatchSurface NurbsSet
NurbsSurfaceInterpolator NurbsSweptSurface NurbsSwungSurface NurbsTextureCoordinate NurbsTrimmedSurface
PackagedShader PhysicalMaterial PickSensor PixelTexture3D PointPickSensor PointProperties Polyline2D Polypoint2D
PrimitivePickSensor ProgramShader QuadSet Rectangle2D ReceiverPdu ShaderPart ShaderProgram SignalPdu StringSensor
TextureBackground TextureCoordinate3D TextureCoordinate4D TextureCoordinateGenerator TextureMatrixTransform
TextureProjector TextureProjectorParallel TextureProperties TextureTransform3D TimeTrigger TransformSensor TransmitterPdu
TriangleFanSet TriangleSet TriangleSet2D TriangleStripSet TwoSidedMaterial UnlitMaterial Viewport VolumeData
SegmentedVolumeData IsoSurfaceVolumeData OpacityMapVolumeStyle BoundaryEnhancementVolumeStyle
CartoonVolumeStyle ComposedVolumeStyle EdgeEnhancementVolumeStyle ProjectionVolumeStyle ShadedVolumeStyle
SilhouetteEnhancementVolumeStyle ToneMappedVolumeStyle BlendedVolumeStyle
ColorChaser ColorDamper TexCoordChaser2D TexCoordDamper2D PositionChaser2D PositionDamper2D
AcousticProperties Analyser AudioDestination BiquadFilter BufferAudioSource ChannelMerger ChannelSelector
ChannelSplitter Convolver Delay DynamicsCompressor Gain ListenerPointSource MicrophoneSource OscillatorSource
PeriodicWave SpatialSound StreamAudioDestination StreamAudioSource WaveShaper
BallJoint CollidableOffset CollidableShape CollisionCollection CollisionSensor CollisionSpace Contact DoubleAxisHingeJoint
MotorJoint SingleAxisHingeJoint SliderJoint UniversalJoint
BoundedForcePhysicsModel ConeEmitter ExplosionEmitter ForcePhysicsModel PointEmitter PolylineEmitter SurfaceEmitter
VolumeEmitter VolumePickSensor WindPhysicsModel LayoutSpec`

type typeRow struct {
	kind          kind
	fields, names string
}

func makeTypes(rows ...typeRow) map[string]nodeType {
	types := make(map[string]nodeType, 300)
	for _, row := range rows {
		fields := strings.Fields(row.fields)
		for _, name := range strings.Fields(row.names) {
			types[name] = nodeType{row.kind, fields}
		}
	}
	return types
}

// known returns what is known of a type. A prototype hides a node of its name,
// except for those of H-Anim 1.1, which the standard made nodes later.
func (d *document) known(typ string) nodeType {
	t := nodeTypes[typ]
	if d.protos[typ] && (t.kind < joint || t.kind > displacer) {
		return nodeType{}
	}
	return t
}

// keeps reports whether a field of the type is needed.
func (t nodeType) keeps(name string) bool {
	for _, f := range t.fields {
		if f == name {
			return true
		}
	}
	return false
}
